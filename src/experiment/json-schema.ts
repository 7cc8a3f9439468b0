import { z } from 'zod';
import { experimentKeys } from './schema-keys.ts';

/** Name under which the JSON Schema of the experiment file is stored. */
export const experimentJsonSchemaName = 'experiment.schema.json';

/** The JSON Schema (2020-12) of what people write into an `experiment.yaml`, for editors that complete and check. */
export function experimentJsonSchema(): string {
  const schema = z.toJSONSchema(experimentKeys, { io: 'input' });
  return `${JSON.stringify({ title: 'Emberline experiment', ...schema }, null, 2)}\n`;
}
