/**
 * The name that a server gives to a file: `filename*` of the header content-disposition (RFC 6266, in UTF-8 after
 * RFC 8187).
 */
export function fileNameFrom(disposition: string): string {
  const written = /;\s*filename\*=UTF-8''([^;\s]+)/i.exec(disposition)?.[1] ?? '';
  return decoded(written) || 'file';
}

/** Sentences from a header that holds them as percent-encoded JSON. */
export function remarksFrom(header: string | null): readonly string[] {
  if (header === null) return [];
  try {
    const list: unknown = JSON.parse(decoded(header));
    return Array.isArray(list) ? list.filter((one) => typeof one === 'string') : [];
  } catch {
    return [];
  }
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}
