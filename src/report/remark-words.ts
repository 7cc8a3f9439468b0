import type { Severity } from '../remark/index.ts';

const severityWords: Readonly<Record<Severity, string>> = {
  note: 'Note',
  caution: 'Caution',
  repeat: 'Repeat',
};

/** What stands before a remark: its number, where the figure above has numbers, and its severity. */
export function remarkWords(number: number | null, severity: Severity): string {
  return `${number === null ? '' : `${number}  `}${severityWords[severity]}. `;
}
