import { z } from 'zod';
import { experimentKeys } from '../../src/experiment/schema-keys.ts';
import { type FieldFacts, fieldFacts } from '../../src/experiment/written.ts';
import { type Dimension, dimensions, unitsOf } from '../../src/quantity/index.ts';
import { code, page, table } from './markdown.ts';

/** The part of JSON Schema that the schema of the experiment file uses. */
interface Described {
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly default?: unknown;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly exclusiveMaximum?: number;
  readonly maxItems?: number;
  readonly properties?: Readonly<Record<string, Described>>;
  readonly required?: readonly string[];
  readonly items?: Described;
  readonly additionalProperties?: Described | false;
  readonly oneOf?: readonly Described[];
  readonly anyOf?: readonly Described[];
  readonly facts?: FieldFacts;
}

/** A field of the file, by its path from the top. */
interface FieldRow {
  readonly path: string;
  readonly needed: boolean;
  readonly schema: Described;
}

/** The page of the experiment file, from its schema. */
export function experimentFilePage(): string {
  const top = describedKeys();
  const rows = fieldsIn(top, '');
  const sections = Object.keys(top.properties ?? {});
  const plain = sections.filter((key) => rows.filter(({ path }) => first(path) === key).length === 1);
  const deep = sections.filter((key) => !plain.includes(key));
  return page([
    '# The experiment file',
    '`experiment.yaml` in the experiment folder describes the rig, the course and the session, in YAML 1.2. `emberline new <folder>` writes a commented one, `emberline check <folder>` names each fault with its line; [the one of the demo](../../examples/thornwick/experiment.yaml) is commented too. No key is asked for by itself; a key that is *needed* is so where the one above it is written. Keys that are not listed here are refused.',
    'Quantities are text with a unit, as `12.00 mm`; where *± stands*, the standard uncertainty may stand behind `+-`, as `12.00 mm +- 0.02 mm` or `7.7 g +- 0.2 %`. `<code>` stands for a code of your own: letters, digits, dots, hyphens and underscores, at most 40 of them.',
    `## Plain keys`,
    fieldTable(rows.filter(({ path }) => plain.includes(first(path)))),
    ...deep.flatMap((key) => [
      `## ${key}`,
      ...(top.properties?.[key]?.description === undefined ? [] : [top.properties[key].description]),
      fieldTable(rows.filter(({ path }) => first(path) === key && path !== key)),
    ]),
    '## Units',
    'What a field measures decides which units it takes. The first is SI, or °C for temperatures; factors are those of NIST SP 811 (2008) and the SI brochure.',
    table(
      ['kind', 'units, as they are typed'],
      measuredIn(rows).map((dimension) => [
        dimension,
        unitsOf(dimension)
          .map(({ spellings }) => code(spellings[0] ?? ''))
          .join(' '),
      ]),
    ),
  ]);
}

/** What the fields of the file measure, in the order of the table of units. */
function measuredIn(rows: readonly FieldRow[]): readonly Dimension[] {
  return dimensions.filter((dimension) => rows.some(({ schema }) => schema.facts?.dimension === dimension));
}

function first(path: string): string {
  return path.split('.')[0]?.replace('[]', '') ?? path;
}

/** What people write, with what each field says of itself beyond JSON Schema. */
function describedKeys(): Described {
  return z.toJSONSchema(experimentKeys, {
    io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      const facts = fieldFacts.get(zodSchema);
      if (facts !== undefined) Object.assign(jsonSchema, { facts });
    },
  }) as Described;
}

/** All fields below a place, each once; forms of one field that exclude each other are put together. */
function fieldsIn(schema: Described, path: string): FieldRow[] {
  const forms = [schema, ...(schema.oneOf ?? []), ...(schema.anyOf ?? [])];
  const rows: FieldRow[] = [];
  for (const form of forms) {
    for (const [key, below] of Object.entries(form.properties ?? {})) {
      const own = path === '' ? key : `${path}.${key}`;
      rows.push({ path: own, needed: form.required?.includes(key) ?? false, schema: below });
      rows.push(...fieldsIn(below, own));
    }
    if (form.items !== undefined) rows.push(...fieldsIn(form.items, `${path}[]`));
    if (typeof form.additionalProperties === 'object') {
      const own = `${path}.<code>`;
      rows.push({ path: own, needed: false, schema: form.additionalProperties });
      rows.push(...fieldsIn(form.additionalProperties, own));
    }
  }
  return merged(rows);
}

/** One row a path: a field of several forms is needed where all of them need it. */
function merged(rows: readonly FieldRow[]): FieldRow[] {
  const byPath = new Map<string, FieldRow[]>();
  for (const row of rows) byPath.set(row.path, [...(byPath.get(row.path) ?? []), row]);
  return [...byPath.values()].flatMap((same) => {
    const [one] = same;
    if (one === undefined) return [];
    const constants = same.flatMap(({ schema }) => (schema.const === undefined ? [] : [schema.const]));
    const several = constants.length > 1 ? { schema: severalForms(same, constants) } : {};
    return [{ ...one, needed: same.every(({ needed }) => needed), ...several }];
  });
}

function severalForms(same: readonly FieldRow[], constants: readonly unknown[]): Described {
  const described = same.map(({ schema }) => `${code(String(schema.const))}: ${schema.description ?? ''}`);
  return { type: 'string', enum: constants, description: described.join(' ') };
}

function fieldTable(rows: readonly FieldRow[]): string {
  return table(
    ['key', 'needed', 'what it is', 'kind', 'taken', 'example', 'where left out'],
    rows.map(({ path, needed, schema }) => [
      code(path),
      needed ? 'yes' : '',
      schema.description ?? '',
      kindOf(schema),
      takenBy(schema),
      (schema.examples ?? []).map((one) => code(String(one))).join(' '),
      schema.default === undefined ? '' : defaultOf(schema.default),
    ]),
  );
}

function kindOf(schema: Described): string {
  const { facts, type } = schema;
  if (facts !== undefined) {
    return `${facts.dimension ?? 'text'}${facts.uncertain ? ', ± stands' : ''}`;
  }
  if (schema.const !== undefined || schema.enum !== undefined) return 'one of a list';
  if (schema.items !== undefined) return 'list';
  if (schema.properties !== undefined || schema.oneOf !== undefined) return 'keys';
  if (typeof schema.additionalProperties === 'object') return 'keys by code';
  if (schema.anyOf !== undefined) {
    return schema.anyOf.some(({ enum: listed }) => listed !== undefined) ? 'word or keys' : 'keys';
  }
  if (type === 'integer') return 'whole number';
  if (type === 'string') return 'text';
  return typeof type === 'string' ? type : 'text or number';
}

function takenBy(schema: Described): string {
  const { facts, minimum, maximum, exclusiveMinimum, exclusiveMaximum, maxItems } = schema;
  if (facts?.range != null) return facts.range;
  const listed = wordsOf(schema);
  if (listed !== null) return listed;
  if (schema.items !== undefined) {
    const below = wordsOf(schema.items);
    return [below, maxItems === undefined ? null : `at most ${maxItems}`]
      .filter((one) => one !== null)
      .join('; ');
  }
  const named = (schema.anyOf ?? []).map(wordsOf).filter((one) => one !== null);
  if (named.length > 0) return `${named.join(' ')}, or the keys below`;
  const limits = [
    exclusiveMinimum === undefined ? null : `more than ${exclusiveMinimum}`,
    minimum === undefined ? null : `from ${minimum}`,
    exclusiveMaximum === undefined ? null : `less than ${exclusiveMaximum}`,
    maximum === undefined || maximum >= Number.MAX_SAFE_INTEGER ? null : `up to ${maximum}`,
  ];
  return limits.filter((one) => one !== null).join(', ');
}

function wordsOf(schema: Described): string | null {
  if (schema.const !== undefined) return code(String(schema.const));
  return schema.enum === undefined ? null : schema.enum.map((one) => code(String(one))).join(' ');
}

function defaultOf(value: unknown): string {
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text === '{}' || text === '[]' ? '' : code(text);
}
