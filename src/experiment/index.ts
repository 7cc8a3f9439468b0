export { type Experiment, experimentSchema } from './schema.ts';
export { type Checked, type FileFault, parseChecked } from './yaml.ts';
