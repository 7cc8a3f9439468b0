/** A text for the content and the attributes of HTML, without characters that HTML does not allow. */
export function escapeHtml(text: string): string {
  return (
    text
      // biome-ignore lint/suspicious/noControlCharactersInRegex: no letters, and HTML forbids them
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]|\p{Cs}/gu, '')
      .replace(/[&<>"']/g, (one) => `&#${one.codePointAt(0)};`)
  );
}
