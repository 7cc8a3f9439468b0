/**
 * Names that Windows keeps for devices, with or without an ending, also behind blanks (Microsoft, Naming Files, Paths,
 * and Namespaces; from memory).
 */
const device = /^(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[\d¹²³]) *(\.|$)/i;

/** Whether every system takes a name for a file or a folder. */
export function isPlainName(name: string): boolean {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: no file name may hold them
  return name !== '' && !/^\.|[\u0000-\u001f\u007f<>:"|?*\\]|[. ]$/.test(name) && !device.test(name);
}

/**
 * Whether a path is one below its folder on every system, whatever the codes in it.
 *
 * @param path with / between its parts
 * @param deepest most parts
 */
export function staysInside(path: string, deepest: number): boolean {
  const parts = path.split('/');
  return parts.length <= deepest && path.length <= 400 && parts.every(isPlainName);
}
