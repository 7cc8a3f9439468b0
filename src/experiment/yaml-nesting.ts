import { CST, Lexer } from 'yaml';

/** Brackets that may be open at once, and marks of lists and keys that may stand in one line. */
const mostOpen = 50;
/** Columns of indent. */
const mostIndent = 200;

/**
 * Whether a YAML text nests deeper than any file that is written by hand. The parser calls itself for each level, and a
 * stack that runs out inside it can end the whole process; so this is looked at before, piece by piece without
 * recursion. Indent and marks in a line bound the depth of blocks, for every level of a block takes a column.
 *
 * @param text of any kind
 */
export function nestsTooDeep(text: string): boolean {
  let open = 0;
  let marks = 0;
  let lineStart = true;
  for (const piece of new Lexer().lex(text)) {
    switch (CST.tokenType(piece)) {
      case 'flow-map-start':
      case 'flow-seq-start':
        open += 1;
        break;
      case 'flow-map-end':
      case 'flow-seq-end':
      case 'flow-error-end':
        open = Math.max(open - 1, 0);
        break;
      case 'seq-item-ind':
      case 'explicit-key-ind':
        marks += 1;
        break;
      case 'map-value-ind':
        if (open === 0) marks += 1;
        break;
      case 'space':
        if (lineStart && piece.length > mostIndent) return true;
        break;
      case 'newline':
        marks = 0;
        break;
      default:
    }
    if (open > mostOpen || marks > mostOpen) return true;
    lineStart = CST.tokenType(piece) === 'newline';
  }
  return false;
}
