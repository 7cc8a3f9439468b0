export { type RemarkCode, type RemarkKind, remarkCatalogue } from './catalogue.ts';
export { type BinaryPart, binaryPart, MissingPartError } from './part.ts';
export type { Remark, Span } from './remark.ts';
export type { Severity } from './severity.ts';
