export { type RemarkCode, remarkCatalogue } from './catalogue.ts';
export type { Remark, Severity, Span } from './remark.ts';
