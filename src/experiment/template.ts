import { experimentJsonSchemaName } from './json-schema.ts';

/** A commented `experiment.yaml` to start from: an invented rig with every key that most courses need. */
export const experimentTemplate = `# yaml-language-server: $schema=${experimentJsonSchemaName}
# An experiment on the time constant of temperature sensors, as Emberline reads it.
# Change it to your rig, then run: emberline check <this folder>
#
# - Every quantity has its unit: 12 mm, 0.5 in, 120 L/min, 250 ft3/h, 65 degF, 100 Hz.
# - Pressures in a line are gauge or absolute: 2.5 bar(g) or 2.5 bar(a), 35 psi(g) or 35 psi(a).
# - A standard uncertainty may stand behind +-, as 12.00 mm +- 0.02 mm or 7.71 g +- 0.2 %.
# - What you leave out gets its usual value; a recording can be analyzed with an empty file.

course: Thornwick, sensors and their time constants
term: 2026-autumn
# earlier-terms: [../thornwick-2026-spring]   # folders of earlier terms: they are read, never changed
mains: 50 Hz                        # or 60 Hz

# The room. The pressure is what a barometer in the room shows, not reduced to sea level.
room:
  pressure: 100.8 kPa +- 0.2 kPa
  temperature: 21 degC +- 0.5 K
  humidity: 45 %

# The air of the jet, where the body stands: supply air that has expanded is not room air.
supply:
  temperature: 20.5 degC +- 1 K
  humidity: 0 %                     # of dried compressed air
  pressure: 6 bar(g)

# The flow meter. kind is one of
#   variable-area   a float in a tube; reference is what its scale is made for
#   thermal-mass    shows the volume at its reference conditions ("standard" or "normal" litres)
#   volumetric      shows the true volume in the line; needs no reference
#   mass            shows mass per time, as g/s; needs no reference
# The reference is printed on the scale or in its papers: 0, 15 and 20 degC, 60 and 70 degF are all in use.
meter:
  kind: variable-area
  reference: { pressure: 101.325 kPa, temperature: 0 degC }
  line: { pressure: 2.0 bar(g) +- 0.1 bar, temperature: 20 degC +- 2 K }   # inside the meter, while air flows
  accuracy: { of-full-scale: 2 % }  # limits of error, as its maker states them; also of-reading
  full-scale: 200 L/min

nozzle:
  diameter: 16 mm +- 0.1 mm
  stand-off: 12 mm +- 2 mm          # to the middle of the body
  profile: 1.0 +- 0.03              # speed on the axis over the mean: 1 for a contoured nozzle, 1.2 for a long tube

# From the junction to the logger. A channel that is logged in degrees needs only type, class and wires.
sensor:
  thermocouple: T
  tolerance-class: "1"              # by its papers; without it no uncertainty holds the sensor
  junction: ice                     # or a temperature, or the name of the channel that recorded it
  junction-uncertainty: 0.1 K
  gain: 200                         # of the amplifier
  gain-uncertainty: 0.1 %
  zero: 1.3 mV                      # what the logger shows with the input of the amplifier shorted
  wires:                            # they carry heat away from the body
    - { material: copper, diameter: 0.2 mm }
    - { material: constantan, diameter: 0.2 mm }

logger:
  rate: 100 Hz
  range: { from: -10 V, to: 10 V }
  bits: 16                          # or resolution: 0.3 mV

# The bodies by code, which names the recordings: a sphere, or a bare junction, as
#   bare: { shape: bead, diameter: 0.8 mm, material: constantan }   # or shape: wire, across the jet
# The mass is without wires; without it, the density of the material counts. limit is what the adhesive bears.
# An own material: material: { density: 8500 kg/m3, specific-heat: 380 J/(kg K), conductivity: 110 W/(m K) }
bodies:
  brass-12:
    shape: sphere
    diameter: 12.00 mm +- 0.02 mm
    material: brass
    mass: 7.71 g +- 0.01 g
    surface: brass-dull             # or emissivity: 0.22 +- 0.07
    limit: 140 degC
  aluminium-12:
    shape: sphere
    diameter: 12.00 mm +- 0.02 mm
    material: aluminium
    surface: aluminium-commercial
    limit: 140 degC
  aluminium-8:
    shape: sphere
    diameter: 8.00 mm +- 0.02 mm
    material: aluminium
    surface: aluminium-commercial
    limit: 140 degC

# The flows by code: a reading of the meter, a speed that was measured (4 m/s), or still.
flows:
  60: 60 L/min
  120: 120 L/min

# Every body is measured in every flow, but for those left out.
conditions:
  left-out:
    - { body: brass-12, flow: 60, why: takes too long for the session }

protocol:
  baseline: 15 s                    # shortest stretch before the heating
  target: 95 degC                   # heat at least up to here
  limit: 140 degC                   # no body may pass this
  end-fraction: 0.1                 # record until a tenth of the step is left
  window: { from: 0.9, to: 0.1 }    # error fractions of the classroom fits
  repeats: 3
  ambient-offset: 0.3 K             # how much the jet may differ from the baseline
  drift: 0.05 K/min                 # of the zero

# How far theory is trusted: +-30 % at two standard uncertainties.
prediction:
  accuracy: 30 %
  coverage-factor: 2

session:
  length: 110 min
  start: "14:00"
  set-up: 15 min
  zeroing: 2 min                    # amplifier input shorted
  change-over: 2 min
  ice-bath: 30 min                  # made so long before it is used
  reserve: 10 min

heating:
  stream: 180 degC                  # of the hot air where the body stands

# How the documents of the course are set.
report:
  uncertainty-figures: 2            # significant figures of an uncertainty, 1 or 2
  paper: A4                         # or US Letter

# Codes only: names of people do not belong in this file.
sections: [A, B]
benches: [bench-1, bench-2]
groups:
  A1: { section: A, bench: bench-1 }
  A2: { section: A, bench: bench-2 }
  B1: { section: B, bench: bench-1 }
  B2: { section: B, bench: bench-2 }

# How the path of a recording says what it is of: {section}, {group}, {bench}, {body}, {flow}, {repeat}.
# This one fits recordings/A1/brass-12_120_1.txt. A recording that does not fit is asked about, never guessed.
recordings: "recordings/{group}/{body}_{flow}_{repeat}"
`;
