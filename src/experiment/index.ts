export { type Experiment, experimentSchema } from './schema.ts';
export { type Checked, type Fault, parseChecked } from './yaml.ts';
