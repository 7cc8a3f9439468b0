/** Writes the JSON Schema of the experiment file into dist, where editors find it; part of `npm run build`. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { experimentJsonSchema, experimentJsonSchemaName } from '../src/experiment/index.ts';

mkdirSync('dist', { recursive: true });
writeFileSync(join('dist', experimentJsonSchemaName), experimentJsonSchema());
