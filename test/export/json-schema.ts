import { z } from 'zod';

/** What of JSON Schema, draft 4, is held to, and what of it only explains. Anything else is refused. */
export interface JsonSchema {
  readonly type?: string | undefined;
  readonly enum?: readonly unknown[] | undefined;
  readonly pattern?: string | undefined;
  readonly format?: keyof typeof formats | undefined;
  readonly minItems?: number | undefined;
  readonly uniqueItems?: boolean | undefined;
  readonly required?: readonly string[] | undefined;
  readonly properties?: Readonly<Record<string, JsonSchema>> | undefined;
  readonly items?: JsonSchema | undefined;
  readonly oneOf?: readonly JsonSchema[] | undefined;
  readonly anyOf?: readonly JsonSchema[] | undefined;
}

/** Draft 4, 7.3; `textarea` is a hint for forms, and any text will do. */
const formats = {
  uri: z.url(),
  email: z.email(),
  'date-time': z.iso.datetime({ offset: true }),
  textarea: z.string(),
} as const;

const explaining = z.unknown().optional();

const schemaOf: z.ZodType<JsonSchema> = z.strictObject({
  type: z.enum(['object', 'array', 'string', 'number', 'integer', 'boolean']).optional(),
  enum: z.array(z.unknown()).optional(),
  pattern: z.string().optional(),
  format: z.enum(['uri', 'email', 'date-time', 'textarea']).optional(),
  minItems: z.int().optional(),
  uniqueItems: z.boolean().optional(),
  required: z.array(z.string()).optional(),
  get properties() {
    return z.record(z.string(), schemaOf).optional();
  },
  get items() {
    return schemaOf.optional();
  },
  get oneOf() {
    return z.array(schemaOf).optional();
  },
  get anyOf() {
    return z.array(schemaOf).optional();
  },
  $schema: explaining,
  title: explaining,
  description: explaining,
  default: explaining,
  examples: explaining,
  context: explaining,
  notes: explaining,
  options: explaining,
  propertyOrder: explaining,
});

/** @throws where a schema holds a keyword that would not be held to */
export function jsonSchema(text: string): JsonSchema {
  return schemaOf.parse(JSON.parse(text));
}

/** Where and how a value does not keep to a schema; empty where it does. */
export function faultsOf(schema: JsonSchema, value: unknown, at = '$'): string[] {
  const faults: string[] = [];
  if (schema.type !== undefined && typeOf(value, schema.type) !== schema.type) {
    return [`${at} is no ${schema.type}`];
  }
  if (schema.enum !== undefined && !schema.enum.includes(value)) faults.push(`${at} is none of the list`);
  if (typeof value === 'string') {
    if (schema.pattern !== undefined && !new RegExp(schema.pattern).test(value)) {
      faults.push(`${at} does not match ${schema.pattern}`);
    }
    if (schema.format !== undefined && !formats[schema.format].safeParse(value).success) {
      faults.push(`${at} is no ${schema.format}`);
    }
  }
  if (Array.isArray(value)) {
    if (value.length < (schema.minItems ?? 0)) faults.push(`${at} is too short`);
    if (schema.uniqueItems === true && new Set(value.map((one) => JSON.stringify(one))).size < value.length) {
      faults.push(`${at} holds a thing twice`);
    }
    value.forEach((item, i) => {
      faults.push(...(schema.items === undefined ? [] : faultsOf(schema.items, item, `${at}[${i}]`)));
    });
  } else if (typeof value === 'object' && value !== null) {
    const held = new Map(Object.entries(value));
    for (const name of schema.required ?? []) if (!held.has(name)) faults.push(`${at} has no ${name}`);
    for (const [name, own] of Object.entries(schema.properties ?? {})) {
      if (held.has(name)) faults.push(...faultsOf(own, held.get(name), `${at}.${name}`));
    }
  }
  const matches = (list: readonly JsonSchema[]) => list.filter((one) => faultsOf(one, value).length === 0);
  if (schema.oneOf !== undefined && matches(schema.oneOf).length !== 1) {
    faults.push(`${at}: not one of oneOf`);
  }
  if (schema.anyOf !== undefined && matches(schema.anyOf).length === 0) faults.push(`${at}: none of anyOf`);
  return faults;
}

function typeOf(value: unknown, wanted: string): string {
  if (Array.isArray(value)) return 'array';
  if (value === null) return 'null';
  return wanted === 'integer' && Number.isInteger(value) ? 'integer' : typeof value;
}
