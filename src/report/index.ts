export { benchSheet } from './bench-sheet.ts';
export { briefing } from './briefing.ts';
export { bestExample } from './briefing-best.ts';
export { practiceExamples } from './briefing-examples.ts';
export { type OwnPicture, ownWords } from './briefing-markdown.ts';
export { ownParts } from './briefing-own.ts';
export { type BriefingExample, type BriefingPart, recordedExample } from './briefing-types.ts';
export type {
  Block,
  Report,
} from './document.ts';
export { groupReport } from './group.ts';
export { documentHtml } from './html.ts';
export type { Origin } from './origin.ts';
export { documentSettings } from './settings.ts';
export { slidesHtml } from './slides.ts';
export { trialReport } from './trial.ts';
export { typesetPdf } from './typeset.ts';

export { workedReport } from './worked.ts';
