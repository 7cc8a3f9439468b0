import type { Draw } from './random.ts';

/** Groups of the course whose server is killed. */
export const groups = ['A1', 'A2', 'A3', 'A4'] as const;
const bodies = ['brass-12', 'brass-20'];
const flows = ['60', '120'];
/** Most repeats that a place has. */
const repeats = 99;

/** A small course: nothing of it takes long to analyze. */
export const courseText = `bodies:
  brass-12: { diameter: 12 mm, material: brass }
  brass-20: { diameter: 20 mm, material: brass }
flows:
  60: 60 L/min
  120: 120 L/min
sections: [A]
groups:
${groups.map((group) => `  ${group}: { section: A }`).join('\n')}
recordings: "recordings/{group}/{body}_{flow}-{repeat}"
`;

/** Where recordings can be kept. */
export const places = groups.flatMap((group) =>
  bodies.flatMap((body) =>
    flows.flatMap((flow) =>
      Array.from({ length: repeats }, (_, i) => ({ group, body, flow, repeat: i + 1 })),
    ),
  ),
);

/** A short recording that no other has the bytes of; some are long enough to be written in several pieces. */
export function recordingText(random: Draw, word: string): string {
  const rows = random() < 0.2 ? 20_000 : 60;
  const lines = Array.from(
    { length: rows },
    (_, i) => `${(i / 10).toFixed(1)}\t${(80 * 0.98 ** i).toFixed(3)}`,
  );
  return `# ${word}\nTime (s)\tT (degC)\n${lines.join('\n')}\n`;
}
