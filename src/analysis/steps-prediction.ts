import type { Decay } from '../decay/index.ts';
import { type Condition, compareCondition, type Experiment, predictionFor } from '../experiment/index.ts';
import {
  type Flow,
  findCorrelation,
  lumpedBiotLimit,
  type Prediction,
  type PredictionInput,
  PredictionInputError,
  predict,
} from '../prediction/index.ts';
import { formatWithInterval, formatWithUncertainty } from '../quantity/index.ts';
import { commonPractice, decimals, figures, formula, type StepQuoting } from './steps-formula.ts';
import type { WrittenFormula, WrittenStep } from './steps-types.ts';

/** From the flow to the time constant that physics expects, and how the measured one stands to it. */
export function predictionSteps(
  experiment: Experiment,
  condition: Condition,
  { timeConstant }: Decay,
  quoting: StepQuoting,
): WrittenStep[] {
  const asked = predictionFor(experiment, condition);
  if (!asked.ok) {
    const missing = asked.missing.map(({ place, message }) => `under ${place.join(' › ')}, ${message}`);
    return [noPrediction(`The experiment file does not say enough: ${missing.join('; ')}.`)];
  }
  const { input, uncertainties, correlationAccuracy } = asked;
  let prediction: Prediction;
  try {
    prediction = predict(input, { uncertainties, correlationAccuracy, draws: 0 });
  } catch (error) {
    if (!(error instanceof PredictionInputError)) throw error;
    return [noPrediction(`No prediction can be made: ${error.message}.`)];
  }
  const steps = [airStep(input, prediction), heatTransferStep(input, prediction, quoting)];
  if (timeConstant !== null) steps.push(comparisonStep(prediction, timeConstant, quoting));
  return steps;
}

function noPrediction(why: string): WrittenStep {
  return {
    id: 'prediction',
    title: 'What physics expects',
    text: [],
    formulas: [],
    table: null,
    result: why,
    source: null,
  };
}

/** Flow to speed to Reynolds number. */
function airStep({ flow, body }: PredictionInput, prediction: Prediction): WrittenStep {
  const { air, velocity, reynolds, nozzle } = prediction;
  const formulas: WrittenFormula[] = [];
  if (flow.kind === 'jet' && nozzle !== null) formulas.push(...jetFormulas(flow, prediction));
  const film = findCorrelation(prediction.correlation.forced)?.basis === 'film';
  const values = {
    rho: figures(air.density, 5),
    v: figures(velocity, 5),
    d: figures(body.diameter * 1e3, 5),
    mu: figures(air.viscosity * 1e6, 5),
    re: figures(reynolds, 5),
  };
  if (flow.kind !== 'still') {
    formulas.push(
      film
        ? formula(
            '\\mathit{Re} = \\frac{\\rho\\,v\\,D}{\\mu} = <re>',
            'Re = ρ v D/μ = <re>, with the air between surface and stream',
            values,
            'definition',
          )
        : formula(
            '\\mathit{Re} = \\frac{\\rho\\,v\\,D}{\\mu} = \\frac{<rho>\\ \\mathrm{kg/m^3}\\cdot <v>\\ \\mathrm{m/s}\\cdot <d>\\ \\mathrm{mm}}{<mu>\\ \\mathrm{\\mu Pa{\\cdot}s}}\\times 1000 = <re>',
            'Re = ρ v D/μ = <rho> kg/m³ · <v> m/s · <d> mm/<mu> µPa·s × 1000 = <re>',
            values,
            'definition',
          ),
    );
  }
  return {
    id: 'air',
    title: 'The air at the body',
    text: [
      `Air at ${decimals(air.temperature - 273.15, 2)} °C and ${figures(air.pressure / 1e3, 5)} kPa: density ${values.rho} kg/m³, viscosity ${values.mu} µPa·s, conductivity ${figures(air.conductivity * 1e3, 4)} mW/(m·K), Pr = ${figures(air.prandtl, 4)}.`,
    ],
    formulas,
    table: null,
    result:
      flow.kind === 'still'
        ? 'The air stands still; natural convection carries the heat.'
        : `${figures(velocity, 5)} m/s at the body, Re = ${figures(reynolds, 5)}.`,
    source: null,
  };
}

function jetFormulas(flow: Flow & { kind: 'jet' }, { nozzle, velocity, air }: Prediction): WrittenFormula[] {
  const { diameter, standOff, profileFactor, decayConstant } = flow.nozzle;
  const mass = nozzle?.massFlow ?? Number.NaN;
  const mouth = nozzle?.speed ?? Number.NaN;
  const density = (profileFactor * mass) / (mouth * (Math.PI / 4) * diameter ** 2);
  const values = {
    m: figures(mass * 1e3, 5),
    rho: figures(density, 5),
    d: figures(diameter * 1e3, 5),
    p: figures(profileFactor, 4),
    v0: figures(mouth, 5),
    v: figures(velocity, 5),
    x: figures(standOff * 1e3, 4),
    B: figures(decayConstant, 3),
    ratio: figures(Math.min(1, (decayConstant * diameter) / standOff), 4),
  };
  const formulas = [meterFormula(flow, values.m)];
  formulas.push(
    formula(
      'v_0 = f\\,\\frac{4\\,q_m}{\\pi\\,\\rho\\,d^2} = <p>\\cdot\\frac{4\\cdot <m>\\ \\mathrm{g/s}}{\\pi\\cdot <rho>\\ \\mathrm{kg/m^3}\\cdot(<d>\\ \\mathrm{mm})^2}\\times 1000 = <v0>\\ \\mathrm{m/s}',
      'v0 = f · 4 q_m/(π ρ d²) = <p> · 4 · <m> g/s/(π · <rho> kg/m³ · (<d> mm)²) × 1000 = <v0> m/s',
      values,
      'continuity; f is the profile of the nozzle',
    ),
    formula(
      'v = v_0\\,\\min(1,\\ B\\,d/x) = <v0>\\ \\mathrm{m/s}\\cdot <ratio> = <v>\\ \\mathrm{m/s}',
      'v = v0 min(1, B d/x) = <v0> m/s · <ratio> = <v> m/s, x = <x> mm, B = <B>',
      values,
      'decay of a round jet: Hussein, Capp & George, J. Fluid Mech. 258 (1994) 31; B = 6: common practice',
    ),
  );
  return air.density > 0 ? formulas : [];
}

const meterWords = {
  'variable-area': {
    tex: 'q_m = Q\\,(\\rho_\\mathrm{cal}\\,\\rho_\\mathrm{line})^{1/2}',
    plain: 'q_m = Q (ρ_cal ρ_line)^(1/2)',
    source: 'variable-area meter: VDI/VDE 3513',
  },
  'thermal-mass': {
    tex: 'q_m = Q\\,\\rho_\\mathrm{ref}',
    plain: 'q_m = Q ρ_ref',
    source: 'volume at the reference condition of the scale',
  },
  volumetric: {
    tex: 'q_m = Q\\,\\rho_\\mathrm{line}',
    plain: 'q_m = Q ρ_line',
    source: 'true volume in the meter',
  },
  mass: { tex: 'q_m', plain: 'q_m', source: 'as read' },
} as const;

function meterFormula({ meter }: Flow & { kind: 'jet' }, mass: string): WrittenFormula {
  const { tex, plain, source } = meterWords[meter.kind];
  if (meter.kind === 'mass')
    return formula(`${tex} = <m>\\ \\mathrm{g/s}`, `${plain} = <m> g/s`, { m: mass }, source);
  return formula(
    `${tex} = <m>\\ \\mathrm{g/s},\\quad Q = <Q>\\ \\mathrm{L/min}`,
    `${plain} = <m> g/s, Q = <Q> L/min on the scale`,
    { m: mass, Q: figures(meter.reading * 6e4, 5) },
    source,
  );
}

/** Nusselt number to time constant. */
function heatTransferStep(
  { body, cooling }: PredictionInput,
  prediction: Prediction,
  quoting: StepQuoting,
): WrittenStep {
  const { heatTransferCoefficient: h, biot, lumped, timeConstant } = prediction;
  const sphere = body.shape === 'sphere';
  const area = sphere ? Math.PI * body.diameter ** 2 : Math.PI * body.diameter;
  const heatCapacity = lumped.timeConstant * h.total * area;
  const values = {
    h: figures(h.total, 5),
    conv: figures(h.convection, 5),
    rad: figures(h.radiation, 3),
    stem: figures(h.stem, 3),
    A: figures(area * (sphere ? 1e6 : 1e3), 5),
    C: figures(heatCapacity, 5),
    tl: decimals(lumped.timeConstant, 4),
    bi: figures(biot.volumeToArea, 3),
    bir: figures(biot.diameter / 2, 4),
    k: figures((h.total * body.diameter) / biot.diameter, 4),
    d: figures(body.diameter * 1e3, 5),
    tau: decimals(timeConstant.value, 4),
    ratio: figures(timeConstant.value / lumped.timeConstant, 6),
  };
  const areaUnit = sphere ? '\\mathrm{mm}^2' : '\\mathrm{mm}^2/\\mathrm{mm}';
  const formulas = [
    ...nusseltFormulas(prediction, body.diameter),
    formula(
      'h = h_\\mathrm{conv} + h_\\mathrm{rad} + h_\\mathrm{wires} = <conv> + <rad> + <stem> = <h>\\ \\mathrm{W/(m^2{\\cdot}K)}',
      'h = h_conv + h_rad + h_wires = <conv> + <rad> + <stem> = <h> W/(m²·K)',
      values,
      'radiation: Incropera et al., 6th ed., eq. 1.9; wires as fins: Table 3.4',
    ),
    formula(
      `\\tau_\\mathrm{lumped} = \\frac{m\\,c}{h\\,A} = \\frac{<C>\\ \\mathrm{J/K}}{<h>\\ \\mathrm{W/(m^2{\\cdot}K)}\\cdot <A>\\ ${areaUnit}}\\times 10^{${sphere ? 6 : 3}} = <tl>\\ \\mathrm{s}`,
      `τ_lumped = m c/(h A) = <C> J/K/(<h> W/(m²·K) · <A> mm²) × 10${sphere ? '⁶' : '³'} = <tl> s`,
      values,
      'lumped capacity: Incropera et al., 6th ed., eq. 5.7',
    ),
  ];
  if (sphere) {
    formulas.push(
      formula(
        '\\mathit{Bi} = \\frac{h\\,D}{6\\,k} = \\frac{<h>\\cdot <d>\\times 10^{-3}}{6\\cdot <k>} = <bi>',
        'Bi = h D/(6 k) = <h> · <d> × 10⁻³/(6 · <k>) = <bi>',
        values,
        'volume over area; below 0.1 the body has nearly one temperature: Incropera et al., 6th ed., eq. 5.10',
      ),
      formula(
        '\\tau = \\frac{3\\,\\mathit{Bi}_r}{\\zeta_1^2}\\,\\tau_\\mathrm{lumped} = <ratio>\\cdot <tl>\\ \\mathrm{s} = <tau>\\ \\mathrm{s},\\quad 1 - \\zeta_1\\cot\\zeta_1 = \\mathit{Bi}_r = \\frac{h\\,D}{2\\,k} = <bir>',
        'τ = (3 Bi_r/ζ1²) τ_lumped = <ratio> · <tl> s = <tau> s, with 1 − ζ1 cot ζ1 = Bi_r = h D/(2 k) = <bir>',
        values,
        'first mode of a sphere: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), 9.4',
      ),
    );
  }
  const expected = formatWithInterval(timeConstant.value, timeConstant.interval, quoting);
  const reach = Number.isFinite(timeConstant.interval[1]) ? `${expected.high} s` : 'no upper end';
  return {
    id: 'heat-transfer',
    title: 'From heat transfer to the time constant',
    text: [
      `The coefficient is taken at the mean error fraction of the window, ${cooling.window.from} to ${cooling.window.to}: the surface is then at ${decimals(prediction.surfaceTemperature - 273.15, 1)} °C.`,
      ...(biot.volumeToArea > lumpedBiotLimit
        ? ['The Biot number is above 0.1: one temperature for the whole body is not taken for granted.']
        : []),
    ],
    formulas,
    table: null,
    result: `Expected: τ = ${expected.value} s, ${Math.round(1000 * timeConstant.coverage) / 10} % interval ${expected.low} s to ${reach}.`,
    source: null,
  };
}

function nusseltFormulas(prediction: Prediction, diameter: number): WrittenFormula[] {
  const { reynolds, prandtl, viscosityRatio, nusselt, heatTransferCoefficient: h } = prediction;
  const forced = findCorrelation(prediction.correlation.forced);
  const natural = findCorrelation(prediction.correlation.natural);
  const values = {
    nu: figures(nusselt, 5),
    conv: figures(h.convection, 5),
    k: figures((h.convection * diameter * 1e3) / nusselt, 5),
    d: figures(diameter * 1e3, 5),
  };
  const formulas: WrittenFormula[] = [];
  const law = forced?.law ?? null;
  const within = reynolds > 0 && reynolds <= (law?.upTo ?? Number.POSITIVE_INFINITY);
  if (forced !== undefined && law !== null && within) {
    const alone = forced.nusselt({ reynolds, prandtl, viscosityRatio, rayleigh: 0 });
    formulas.push(
      formula(
        `Nu_f = ${law.tex} = <nuf>`,
        `Nu_f = ${law.plain} = <nuf>, with Re = <re>, Pr = <pr>, μ/μ_s = <mu>`,
        {
          nuf: figures(alone, 5),
          re: figures(reynolds, 5),
          pr: figures(prandtl, 4),
          mu: figures(viscosityRatio, 4),
        },
        forced.citation,
      ),
    );
  }
  formulas.push(
    formula(
      'h_\\mathrm{conv} = \\frac{Nu\\,k_\\mathrm{air}}{D} = \\frac{<nu>\\cdot <k>\\ \\mathrm{mW/(m{\\cdot}K)}}{<d>\\ \\mathrm{mm}} = <conv>\\ \\mathrm{W/(m^2{\\cdot}K)}',
      'h_conv = Nu k_air/D = <nu> · <k> mW/(m·K)/<d> mm = <conv> W/(m²·K); Nu holds natural convection as well',
      values,
      `definition; natural convection added by cubes: ${natural?.citation ?? commonPractice}; Incropera et al., 6th ed., eq. 9.64`,
    ),
  );
  return formulas;
}

/** Measured against predicted. */
function comparisonStep(
  { timeConstant: predicted }: Prediction,
  measured: NonNullable<Decay['timeConstant']>,
  quoting: StepQuoting,
): WrittenStep {
  const comparison = compareCondition(measured, predicted);
  const half = (measured.interval[1] - measured.interval[0]) / 2;
  const expected = formatWithInterval(predicted.value, predicted.interval, quoting);
  return {
    id: 'comparison',
    title: 'Measured against expected',
    text: [
      `Measured: τ = ${formatWithUncertainty(measured.value, half, { ...quoting, unit: 's', minus: 'true' }).text}, coverage ${Math.round(1000 * measured.coverage) / 10} %; expected: τ = ${expected.value} s, from ${expected.low} s to ${expected.high} s. One recording says nothing of how trials repeat: place and flow are set anew each time.`,
      'The interval of a prediction is symmetric in 1/τ, so the two are held against each other as rates.',
    ],
    formulas: [
      formula(
        '\\frac{\\tau_\\mathrm{m}}{\\tau_\\mathrm{e}} = \\frac{<m>\\ \\mathrm{s}}{<p>\\ \\mathrm{s}} = <r>',
        'τ_m/τ_e = <m> s/<p> s = <r>',
        {
          m: decimals(measured.value, 4),
          p: decimals(predicted.value, 4),
          r: figures(comparison.ratio, 4),
        },
        'definition',
      ),
      formula(
        'E_n = \\frac{1/\\tau_\\mathrm{e} - 1/\\tau_\\mathrm{m}}{[U^2(1/\\tau_\\mathrm{m}) + U^2(1/\\tau_\\mathrm{e})]^{1/2}} = <en>',
        'E_n = (1/τ_e − 1/τ_m)/(U²(1/τ_m) + U²(1/τ_e))^(1/2) = <en>; within ±1 the uncertainties explain the difference',
        { en: figures(comparison.normalisedError, 3) },
        'normalised error: ISO 13528:2022, 9.7',
      ),
    ],
    table: null,
    result: comparison.sentence,
    source: null,
  };
}
