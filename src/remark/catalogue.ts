import type { Severity } from './severity.ts';

/** What there is to know about a code, whatever the recording. */
export interface RemarkKind {
  /** One sentence: what it is about. */
  readonly meaning: string;
  /** How grave it can be, the lightest first. */
  readonly severities: readonly Severity[];
  /** What is usually done about it; a remark's own action is about the case at hand. */
  readonly mend: string;
}

/**
 * Every code that a remark can carry, with what it means. The codes are stable: scripts, course notes and
 * stored results refer to them. A remark's own sentences carry the numbers of the case at hand.
 */
export const remarkCatalogue = {
  'adequacy-untested': {
    meaning: 'The record is too short or too noisy to test whether one exponential describes it.',
    severities: ['note'],
    mend: 'Record longer, or with less noise.',
  },
  'air-safety': {
    meaning: 'Compressed air is opened: eyes, ears and skin need care.',
    severities: ['note', 'caution'],
    mend: 'Wear eye protection, fix the hose, open the valve slowly, never point the jet at skin, protect the ears where it is loud; local rules come first.',
  },
  'ambient-doubtful': {
    meaning: 'The ambient that was used does not agree with what the cooling itself tends to.',
    severities: ['caution', 'repeat'],
    mend: 'Give the ambient as this channel shows it, or give none and let the baseline tell it.',
  },
  'baseline-missing': {
    meaning: 'Nothing was recorded before the heating, so the ambient is not known from this channel.',
    severities: ['note', 'caution', 'repeat'],
    mend: 'Record a baseline with the jet on before the heating, or give the ambient.',
  },
  'baseline-short': {
    meaning: 'The stretch before the heating is too short to know the ambient well enough.',
    severities: ['note', 'caution'],
    mend: 'Let the sensor take the temperature of the jet untouched, and record the baseline longer.',
  },
  'baseline-unsteady': {
    meaning: 'The sensor was not yet at ambient, or the ambient moved, before the heating.',
    severities: ['caution'],
    mend: 'Keep the jet on, and wait until the sensor has its temperature before recording.',
  },
  'biot-not-small': {
    meaning: 'The body is too large or conducts too badly to have one temperature while it cools.',
    severities: ['caution'],
    mend: 'For a sphere, use the predicted time constant that allows for conduction and mind where the junction sits; for a wire, use a thinner one or a better conductor.',
  },
  'chain-out-of-range': {
    meaning: 'Some readings lie outside the range for which the sensor has a reference function.',
    severities: ['caution', 'repeat'],
    mend: 'Check the unit of the channel, the sensor type, gain and zero of the amplifier, and the wiring.',
  },
  'channel-chosen': {
    meaning: 'The file has several channels that could be the temperature; one was taken.',
    severities: ['note'],
    mend: 'If it is another one, name it with `--channel`.',
  },
  clipped: {
    meaning: 'The signal sits at the end of the converter range for part of the recording.',
    severities: ['caution', 'repeat'],
    mend: 'Choose a wider input range or a smaller gain; if the sensor was open there, mend its leads.',
  },
  'coarse-resolution': {
    meaning: 'The converter step is so large that it limits what the cooling can show.',
    severities: ['note', 'caution'],
    mend: 'Choose a smaller input range or a higher gain.',
  },
  'coefficient-implausible': {
    meaning: 'The heat transfer that a time constant stands for is not usual for this kind of flow.',
    severities: ['note', 'caution'],
    mend: 'Check flow, body and unit of time; in still air look for a draught or heat that leaves through the holder.',
  },
  'coefficient-varies': {
    meaning: 'The heat transfer changes by more than a little while the body cools.',
    severities: ['note'],
    mend: 'Nothing; expect a small systematic departure from one exponential.',
  },
  'condition-impossible': {
    meaning: 'A condition lies where no prediction can be made.',
    severities: ['caution'],
    mend: 'Check the value that is named, and its unit.',
  },
  'convection-mixed': {
    meaning: 'Buoyancy counts beside the jet.',
    severities: ['caution'],
    mend: 'Use a faster jet, or expect the direction of the jet to matter.',
  },
  'cooling-short': {
    meaning: 'The cooling was stopped before the end fraction was reached.',
    severities: ['caution', 'repeat'],
    mend: 'Record longer next time; where a repeat is asked for, repeat the trial and keep recording through the cooling.',
  },
  'correlation-out-of-range': {
    meaning: 'A number that a heat transfer correlation needs lies outside the data it was made from.',
    severities: ['caution'],
    mend: 'Take the level of the prediction as a guess, or choose another correlation.',
  },
  'dates-suspect': {
    meaning: 'The numbers look as if a spreadsheet had opened and saved the file.',
    severities: ['caution'],
    mend: 'Use the file as the logger wrote it.',
  },
  'flow-over-scale': {
    meaning: 'A flow lies beyond the end of the scale of its meter.',
    severities: ['caution'],
    mend: 'Check the units of flow and scale; a reading beyond the scale cannot be set.',
  },
  gaps: {
    meaning: 'Stretches of time have no samples.',
    severities: ['note', 'caution', 'repeat'],
    mend: 'Check logger and cable; nothing was filled in. Repeat the trial where the gap hides much of the cooling.',
  },
  'gauge-doubtful': {
    meaning: 'A pressure looks as if gauge and absolute had been mistaken for each other.',
    severities: ['note', 'caution'],
    mend: 'Write (g) behind a pressure over that of the room, (a) behind an absolute one.',
  },
  'header-repeated': {
    meaning: 'The logger restarted within the file.',
    severities: ['caution'],
    mend: 'Choose the part with `--part`; without it the longest is taken.',
  },
  'heat-safety': {
    meaning: 'Bodies or air are hot enough to burn.',
    severities: ['note', 'caution'],
    mend: 'Never touch a body before it has cooled, nor point hot air at anyone; keep paper, sleeves and hair away; leave nothing hot alone; local rules come first.',
  },
  'heated-again': {
    meaning: 'There are several heatings in the recording.',
    severities: ['note'],
    mend: 'Give `--heating` a number if another heating was meant; heat in one go next time.',
  },
  'heating-missing': {
    meaning: 'No heating and cooling was found.',
    severities: ['repeat'],
    mend: 'Look whether the right file, channel and heating were taken; else repeat the trial from the baseline on.',
  },
  'hum-heavy': {
    meaning: 'Mains hum is large, or the rate folds it into the slow signal.',
    severities: ['note', 'caution'],
    mend: 'Twist and shield the leads, ground the rig at one point, and choose a rate that keeps hum apart from the signal.',
  },
  'jet-decayed': {
    meaning: 'The body stands beyond the core of the jet, where the speed has fallen.',
    severities: ['note', 'caution'],
    mend: 'Move the body to within five nozzle diameters, or measure the speed where it stands.',
  },
  'jet-fast': {
    meaning: 'The jet is so fast that the air is compressed.',
    severities: ['caution'],
    mend: 'Check the flow; above 0.3 times the speed of sound the air is compressed, which is not allowed for.',
  },
  'jet-narrow': {
    meaning: 'The jet is not wide enough for the body.',
    severities: ['note', 'caution'],
    mend: 'Move the body towards the nozzle, use a wider nozzle or a smaller body.',
  },
  'logger-range-short': {
    meaning: 'The logger cannot show the temperatures that the protocol asks for.',
    severities: ['caution'],
    mend: 'Choose a wider range or a smaller gain.',
  },
  'mass-disagrees': {
    meaning: 'The mass of a body does not agree with its diameter and material.',
    severities: ['caution'],
    mend: 'Check diameter, material and balance; the body may be bored.',
  },
  'meter-conditions': {
    meaning: 'The air in the flow meter is not at the condition that its scale is made for.',
    severities: ['note'],
    mend: 'Check pressure and temperature in the meter, and that the gauge sits where the float is.',
  },
  'no-time-constant': {
    meaning: 'The cooling does not determine a time constant.',
    severities: ['repeat'],
    mend: 'Repeat the trial; the sentence of the remark says what the cooling lacks.',
  },
  'not-first-order': {
    meaning: 'The cooling departs from one exponential by more than the noise explains.',
    severities: ['note', 'caution', 'repeat'],
    mend: 'Look at the residuals; repeat with jet and body left where they are. A repeat tells a disturbed jet from a body that is not lumped.',
  },
  'numbers-guessed': {
    meaning: 'Decimal or thousands marks could be read in more than one way; one was taken.',
    severities: ['note', 'caution'],
    mend: 'Say which with `--decimal`, `--thousands` or `--delimiter`.',
  },
  'path-unclear': {
    meaning: 'What a recording is of cannot be read from its path.',
    severities: ['note', 'caution'],
    mend: 'Rename the file, list its codes in the experiment file, or name body and flow in the pattern of the paths.',
  },
  'peak-low': {
    meaning: 'The heating stopped below the target temperature.',
    severities: ['note', 'caution'],
    mend: 'Heat longer next time, within the limit of the body.',
  },
  'peak-over-limit': {
    meaning: 'The body became hotter than its limit allows.',
    severities: ['caution'],
    mend: 'Check the body and its fixing before the next trial, and stop the heating sooner.',
  },
  'prediction-wide': {
    meaning:
      'The prediction is too uncertain for an upper end of its interval, or its linear uncertainty does not hold.',
    severities: ['note', 'caution'],
    mend: 'State smaller uncertainties or a smaller coverage, or take the interval of the Monte Carlo.',
  },
  'rate-disagrees': {
    meaning: 'Two statements of the sampling rate contradict each other.',
    severities: ['caution'],
    mend: 'Find out which of the two is right: time ten seconds of recording, or give `--rate`.',
  },
  'repeats-few': {
    meaning: 'There are too few repeats to see how well trials repeat.',
    severities: ['note'],
    mend: 'Plan three repeats, or take from other sessions how well trials repeat.',
  },
  'reynolds-out-of-range': {
    meaning: 'The Reynolds number lies outside the data that a correlation was made from.',
    severities: ['caution'],
    mend: 'Take the level of the prediction as a guess, or choose another correlation.',
  },
  'rig-changed': {
    meaning: 'What is followed of a rig over the terms has changed by more than chance explains.',
    severities: ['note', 'caution'],
    mend: 'Look at what the remark names, which depends on what is followed; repeat a single value that stands out before anything is changed.',
  },
  'rig-check-outside': {
    meaning: 'A check of the rig had failed when the recording was made, and was not mended.',
    severities: ['note', 'caution'],
    mend: 'Make the check again as its kind says, and mend what fails.',
  },
  'rig-check-stale': {
    meaning: 'A check of the rig was too old when the recording was made.',
    severities: ['note', 'caution'],
    mend: 'Make the check again as its kind says.',
  },
  'rig-incomplete': {
    meaning: 'The experiment file does not describe enough for a prediction.',
    severities: ['note'],
    mend: 'Add what the remark lists, where a prediction is wanted.',
  },
  'samples-dropped': {
    meaning: 'Some lines or values could not be used.',
    severities: ['note', 'caution'],
    mend: 'Look at the lines that are named; if the sensor was disconnected or overloaded in the cooling, repeat the recording.',
  },
  'sampling-sparse': {
    meaning: 'There are few samples per time constant.',
    severities: ['caution', 'repeat'],
    mend: 'Sample faster; about a hundred readings in a time constant are enough.',
  },
  'sampling-uneven': {
    meaning: 'The samples are not evenly spaced in time.',
    severities: ['note', 'caution'],
    mend: 'Let the logger sample by its own clock; times were taken as they stand.',
  },
  'source-unconfirmed': {
    meaning: 'Values were used that have not been held against their printed source.',
    severities: ['note', 'caution'],
    mend: 'Use such a correlation beside another one, not alone; enter the values of the maker for a material.',
  },
  'speed-implausible': {
    meaning: 'The speed of the air is not one that this experiment has.',
    severities: ['caution'],
    mend: 'Check the unit of the flow, the bore of the nozzle and the pressure in the meter.',
  },
  spikes: {
    meaning: 'Single readings far from their neighbours were left out of the averages.',
    severities: ['note', 'caution'],
    mend: 'Check contacts and cable routing if it happens in every trial.',
  },
  'starts-hot': {
    meaning: 'The recording starts while the body is already hot or cooling.',
    severities: ['caution'],
    mend: 'Start recording well before the heating, with the jet on.',
  },
  'stem-large': {
    meaning: 'The wires carry a large share of the heat.',
    severities: ['note'],
    mend: 'Give diameter and material of the wires with care, or use thinner ones.',
  },
  'stream-cool': {
    meaning: 'The hot air is not hot enough for the target temperature.',
    severities: ['caution'],
    mend: 'Use hotter air, as far as the body and the rules allow, or a lower target.',
  },
  'target-over-limit': {
    meaning: 'The target temperature lies above what a body may bear.',
    severities: ['caution'],
    mend: 'Lower the target, or use an adhesive that bears it.',
  },
  'temperature-implausible': {
    meaning: 'The temperatures are outside what this experiment can produce.',
    severities: ['repeat'],
    mend: 'Check unit, sensor type, gain and reference junction of the channel.',
  },
  'time-assumed': {
    meaning: 'The file does not say the time in full: it was built from a rate, or its unit was assumed.',
    severities: ['note', 'caution'],
    mend: 'Give the rate with `--rate`, or the unit of the time column with `--time-unit`.',
  },
  'time-repaired': {
    meaning: 'The time column repeats, wraps or jumps and was straightened.',
    severities: ['note', 'caution'],
    mend: 'Check the time base against a stopwatch where times ran backwards or repeat.',
  },
  'unit-assumed': {
    meaning: 'The unit of the channel is not written in the file; it was taken from elsewhere.',
    severities: ['caution'],
    mend: 'Check which unit is right, and give it with `--unit`.',
  },
  'viscosity-ratio-outside': {
    meaning: 'The ratio of viscosities lies outside the data that a correlation was made from.',
    severities: ['note'],
    mend: 'Nothing; the ratio moves the Nusselt number by a few percent, well inside its uncertainty.',
  },
  'window-beyond-end': {
    meaning: 'The window of the classroom fits ends where recordings no longer reach.',
    severities: ['caution'],
    mend: 'Lower `end-fraction` of the protocol, or end the window where recordings end.',
  },
  'zero-drift': {
    meaning: 'The level before heating and the level the cooling tends to differ by more than allowed.',
    severities: ['caution'],
    mend: 'Let the chain warm up, read the zero before and after the trial, and wait until the jet is steady.',
  },
} as const satisfies Record<string, RemarkKind>;

/** A stable name for what a remark is about. */
export type RemarkCode = keyof typeof remarkCatalogue;
