import { remarkCatalogue } from '../../src/remark/index.ts';
import { code, page, table } from './markdown.ts';

/** The page of remarks, from the catalogue. */
export function remarksPage(): string {
  const kinds = Object.entries(remarkCatalogue);
  return page([
    '# Remarks',
    'Emberline speaks about data by remarks. A remark has a code, a severity, a sentence that says what was seen with its number, and one that says what to do about the case at hand. The codes are stable: scripts and course notes may refer to them.',
    table(
      ['severity', 'meaning'],
      [
        [code('note'), 'good to know'],
        [code('caution'), 'the number can be used, with this in mind'],
        [code('repeat'), 'the recording cannot carry a time constant that would be defended'],
      ],
    ),
    `There are ${kinds.length} codes. What is usually done about each stands here; where a remark says something else, it knows more.`,
    table(
      ['code', 'severity', 'meaning', 'mend'],
      kinds.map(([name, { severities, meaning, mend }]) => [
        code(name),
        severities.join(', '),
        meaning,
        mend,
      ]),
    ),
    'Where a mend has to do with hot air, hot metal, compressed air or mains: keep hot air and jets away from people, wear eye protection, let bodies cool in the jet before they are touched, let licensed people see to mains and pressure lines. The rules of your laboratory come first.',
  ]);
}
