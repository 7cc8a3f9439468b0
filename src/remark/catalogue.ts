/**
 * Every code that a remark can carry, with what it means. The codes are stable: scripts, course notes and
 * stored results refer to them. A remark's own sentences carry the numbers of the case at hand.
 */
export const remarkCatalogue = {
  'adequacy-untested': 'The record is too short or too noisy to test whether one exponential describes it.',
  'air-safety': 'Compressed air is opened: eyes, ears and skin need care.',
  'ambient-doubtful': 'The ambient that was used does not agree with what the cooling itself tends to.',
  'baseline-missing':
    'Nothing was recorded before the heating, so the ambient is not known from this channel.',
  'baseline-short': 'The stretch before the heating is too short to know the ambient well enough.',
  'baseline-unsteady': 'The sensor was not yet at ambient, or the ambient moved, before the heating.',
  'biot-not-small': 'The body is too large or conducts too badly to have one temperature while it cools.',
  'chain-out-of-range': 'Some readings lie outside the range for which the sensor has a reference function.',
  'channel-chosen': 'The file has several channels that could be the temperature; one was taken.',
  clipped: 'The signal sits at the end of the converter range for part of the recording.',
  'coarse-resolution': 'The converter step is so large that it limits what the cooling can show.',
  'coefficient-implausible':
    'The heat transfer that a time constant stands for is not usual for this kind of flow.',
  'coefficient-varies': 'The heat transfer changes by more than a little while the body cools.',
  'condition-impossible': 'A condition lies where no prediction can be made.',
  'convection-mixed': 'Buoyancy counts beside the jet.',
  'cooling-short': 'The cooling was stopped before the end fraction was reached.',
  'correlation-out-of-range':
    'A number that a heat transfer correlation needs lies outside the data it was made from.',
  'dates-suspect': 'The numbers look as if a spreadsheet had opened and saved the file.',
  'flow-over-scale': 'A flow lies beyond the end of the scale of its meter.',
  gaps: 'Stretches of time have no samples.',
  'gauge-doubtful': 'A pressure looks as if gauge and absolute had been mistaken for each other.',
  'header-repeated': 'The logger restarted within the file.',
  'heat-safety': 'Bodies or air are hot enough to burn.',
  'heated-again': 'There are several heatings in the recording.',
  'heating-missing': 'No heating and cooling was found.',
  'hum-heavy': 'Mains hum is large, or the rate folds it into the slow signal.',
  'jet-decayed': 'The body stands beyond the core of the jet, where the speed has fallen.',
  'jet-fast': 'The jet is so fast that the air is compressed.',
  'jet-narrow': 'The jet is not wide enough for the body.',
  'logger-range-short': 'The logger cannot show the temperatures that the protocol asks for.',
  'mass-disagrees': 'The mass of a body does not agree with its diameter and material.',
  'meter-conditions': 'The air in the flow meter is not at the condition that its scale is made for.',
  'no-time-constant': 'The cooling does not determine a time constant.',
  'not-first-order': 'The cooling departs from one exponential by more than the noise explains.',
  'numbers-guessed': 'Decimal or thousands marks could be read in more than one way; one was taken.',
  'path-unclear': 'What a recording is of cannot be read from its path.',
  'peak-low': 'The heating stopped below the target temperature.',
  'peak-over-limit': 'The body became hotter than its limit allows.',
  'prediction-wide':
    'The prediction is too uncertain for an upper end of its interval, or its linear uncertainty does not hold.',
  'rate-disagrees': 'Two statements of the sampling rate contradict each other.',
  'repeats-few': 'There are too few repeats to see how well trials repeat.',
  'reynolds-out-of-range': 'The Reynolds number lies outside the data that a correlation was made from.',
  'rig-changed': 'What is followed of a rig over the terms has changed by more than chance explains.',
  'rig-check-outside': 'A check of the rig had failed when the recording was made, and was not mended.',
  'rig-check-stale': 'A check of the rig was too old when the recording was made.',
  'rig-incomplete': 'The experiment file does not describe enough for a prediction.',
  'samples-dropped': 'Some lines or values could not be used.',
  'sampling-sparse': 'There are few samples per time constant.',
  'sampling-uneven': 'The samples are not evenly spaced in time.',
  'source-unconfirmed': 'Values were used that have not been held against their printed source.',
  'speed-implausible': 'The speed of the air is not one that this experiment has.',
  spikes: 'Single readings far from their neighbours were left out of the averages.',
  'starts-hot': 'The recording starts while the body is already hot or cooling.',
  'stem-large': 'The wires carry a large share of the heat.',
  'stream-cool': 'The hot air is not hot enough for the target temperature.',
  'target-over-limit': 'The target temperature lies above what a body may bear.',
  'temperature-implausible': 'The temperatures are outside what this experiment can produce.',
  'time-assumed':
    'The file does not say the time in full: it was built from a rate, or its unit was assumed.',
  'time-repaired': 'The time column repeats, wraps or jumps and was straightened.',
  'unit-assumed': 'The unit of the channel is not written in the file; it was taken from elsewhere.',
  'viscosity-ratio-outside':
    'The ratio of viscosities lies outside the data that a correlation was made from.',
  'window-beyond-end': 'The window of the classroom fits ends where recordings no longer reach.',
  'zero-drift': 'The level before heating and the level the cooling tends to differ by more than allowed.',
} as const satisfies Record<string, string>;

/** A stable name for what a remark is about. */
export type RemarkCode = keyof typeof remarkCatalogue;
