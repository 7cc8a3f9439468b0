import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { decayText } from './recording.ts';

/**
 * A text that is markup in everything that a text of the house is put into: HTML, SVG, Typst, Markdown, formulas and the
 * templates of feedback. `mark` says where it was put in.
 */
export function hostileText(mark: string): string {
  return `${mark}</p></text></script><script>hit()</script><img src=x onerror=hit()>"'&lt;]]> #link("https://evil.example")[x] $x$ [y](javascript:hit()) {who} *z*`;
}

/** What it becomes where it is taken for markup. */
export const injected =
  'script:not([src]), [onerror], [onload], [onclick], img[src="x"], iframe, object, embed, base, a[href^="javascript" i], a[href*="evil.example"]';

/** A file name with markup, without the slash that no name can hold. */
export const hostileName = '<img src=x onerror=hit()>$x$#x[y](javascript:hit()).txt';
/** A recording at its place, whose header is markup. */
export const spoilt = 'recordings/A/A1/brass-12_120-9.txt';

/** Puts hostile texts into a folder of the demo, wherever a person or a logger can write. */
export function spoil(folder: string): void {
  const put = (path: string, text: string) => {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  };
  const named = (mark: string) => JSON.stringify(hostileText(mark));
  const experiment = readFileSync(join(folder, 'experiment.yaml'), 'utf8')
    .replace(/^course: .*$/m, () => `course: ${named('course')}`)
    .replace(/why: too quick[^}]*/, () => `why: ${named('left-out')} `)
    .replace('brass-12:\n    {', () => `brass-12:\n    { name: ${named('body')},`);
  put('experiment.yaml', experiment);
  const channel = `${hostileText('channel').split('<img')[0]} (degC)`;
  put(
    spoilt,
    decayText().replace('Sphere (degC)', () => channel),
  );
  put(`recordings/A/A1/${hostileName}`, `${hostileText('line')}\n`);
  put('briefing/cautions.md', `${hostileText('own')}\n\n![${hostileText('picture')}](x.png)\n`);
  put('feedback/feedback.md', `${hostileText('feedback').replace('{who}', '')}\n\n{recordings}\n`);
}

/**
 * Says hostile things about it through the server, as a group or an assistant could.
 *
 * @param send posts JSON to an address
 */
export async function spoilFurther(send: (path: string, body: unknown) => Promise<Response>): Promise<void> {
  const why = hostileText('why');
  const who = hostileText('who').slice(0, 60);
  const answers = [
    await send(`/api/recordings/${spoilt}/decisions`, { kind: 'reject', who, why }),
    await send('/api/submissions/A1', {
      rows: [{ recording: spoilt, note: hostileText('note').slice(0, 200), values: { point: '4' } }],
    }),
    await send('/api/rig/checks', {
      kind: 'zero',
      value: '1.2 mV',
      bench: 'bench-1',
      subject: null,
      who,
      note: hostileText('check'),
    }),
  ];
  for (const answer of answers) {
    if (answer.status !== 200) throw new Error(`${answer.status}: ${await answer.text()}`);
  }
}
