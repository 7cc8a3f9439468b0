import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const experiment = `room: { pressure: 100 kPa, temperature: 21 degC, humidity: 45 % }
supply: { temperature: 20 degC }
bodies:
  brass-12: { diameter: 12 mm, material: brass }
flows: { still: still, fast: 15 m/s }
protocol: { target: 95 degC }
groups: { g1: {}, g2: {} }
recordings: "recordings/{group}/{body}_{flow}-{repeat}"
`;

/** A trial at 10 Hz: 21 °C, heated to 95 °C in 30 s, then one exponential of 40 s. */
function trial(): string {
  const lines = ['time (s),temperature (degC)'];
  for (let i = 0; i <= 1700; i++) {
    const t = i / 10;
    const t0 = 20;
    const t1 = 50;
    const clean =
      t < t0 ? 21 : t < t1 ? 21 + (74 * (t - t0)) / (t1 - t0) : 21 + 74 * Math.exp(-(t - t1) / 40);
    // A small wave of no period in common with anything stands for noise.
    lines.push(`${t.toFixed(1)},${(clean + 0.02 * Math.sin(12.9898 * i)).toFixed(4)}`);
  }
  return `${lines.join('\n')}\n`;
}

/** A folder with one recording of group g1, whose time constant is 40 s. */
export function experimentFolder(more = ''): string {
  const folder = mkdtempSync(join(tmpdir(), 'emberline-desk-'));
  writeFileSync(join(folder, 'experiment.yaml'), experiment + more);
  mkdirSync(join(folder, 'recordings', 'g1'), { recursive: true });
  writeFileSync(join(folder, 'recordings/g1/brass-12_fast-1.csv'), trial());
  return folder;
}
