import {
  conditionsOf,
  type Experiment,
  experimentSchema,
  parseChecked,
} from '../../../src/experiment/index.ts';
import { type Course, noCourse } from './arrange.ts';

/** What the page needs of the experiment file: the course as the grid has it, and the protocol. */
export interface ReadCourse {
  readonly course: Course;
  /** Null where the file has faults. */
  readonly experiment: Experiment | null;
}

/** Reads the text of an experiment file. */
export function readCourse(text: string): ReadCourse {
  const read = parseChecked(text, experimentSchema);
  if (!read.ok) return { course: noCourse, experiment: null };
  const experiment = read.value;
  return {
    experiment,
    course: {
      repeats: experiment.protocol.repeats,
      conditions: conditionsOf(experiment).measured,
      sections: experiment.sections,
      groups: Object.entries(experiment.groups).map(([code, { section = null }]) => ({ code, section })),
    },
  };
}
