/** What of JSON Schema, draft 4, the published profiles of data packages use. */
export interface JsonSchema {
  readonly type?: string;
  readonly enum?: readonly unknown[];
  readonly pattern?: string;
  readonly minItems?: number;
  readonly required?: readonly string[];
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly items?: JsonSchema;
  readonly oneOf?: readonly JsonSchema[];
  readonly anyOf?: readonly JsonSchema[];
}

/** Where and how a value does not keep to a schema; empty where it does. */
export function faultsOf(schema: JsonSchema, value: unknown, at = '$'): string[] {
  const faults: string[] = [];
  if (schema.type !== undefined && typeOf(value, schema.type) !== schema.type) {
    return [`${at} is no ${schema.type}`];
  }
  if (schema.enum !== undefined && !schema.enum.includes(value)) faults.push(`${at} is none of the list`);
  if (typeof value === 'string' && schema.pattern !== undefined && !new RegExp(schema.pattern).test(value)) {
    faults.push(`${at} does not match ${schema.pattern}`);
  }
  if (Array.isArray(value)) {
    if (value.length < (schema.minItems ?? 0)) faults.push(`${at} is too short`);
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
  if (schema.oneOf !== undefined && matches(schema.oneOf).length !== 1)
    faults.push(`${at}: not one of oneOf`);
  if (schema.anyOf !== undefined && matches(schema.anyOf).length === 0) faults.push(`${at}: none of anyOf`);
  return faults;
}

function typeOf(value: unknown, wanted: string): string {
  if (Array.isArray(value)) return 'array';
  if (value === null) return 'null';
  return wanted === 'integer' && Number.isInteger(value) ? 'integer' : typeof value;
}
