import { appendFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** The course of the demo with so many groups in one section, whose loggers write degrees; and a short recording of each. */
export function writeClass(folder: string, groups: readonly string[]): void {
  const text = readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8');
  const benches = groups.map((_, i) => `bench-${i + 1}`);
  const entries = groups.map((code, i) => `  ${code}: { section: A, bench: bench-${i + 1} }`);
  writeFileSync(
    join(folder, 'experiment.yaml'),
    text
      .replace(/^ {2}gain.*\n/gm, '')
      .replace(/^sections:.*$/m, 'sections: [A]')
      .replace(/^benches:.*$/m, `benches: [${benches.join(', ')}]`)
      .replace(/^groups:\n(?: {2}.*\n)+/m, `groups:\n${entries.join('\n')}\n`),
  );
  for (const [i, group] of groups.entries()) {
    const place = join(folder, 'recordings', 'A', group);
    mkdirSync(place, { recursive: true });
    writeFileSync(join(place, 'brass-12_60-1.txt'), cooling(20 + i / 50));
  }
}

const header = 'Time (s)\tSphere (degC)\n';

/** Baseline, heating and cooling at 10 Hz, as a logger writes them. Time constant in s. */
function cooling(timeConstant: number): string {
  const rows = Array.from({ length: 2400 }, (_, i) => {
    const t = i / 10;
    const rise = t < 20 ? 0 : t < 60 ? 2 * (t - 20) : 80 * Math.exp((60 - t) / timeConstant);
    return `${t.toFixed(1)}\t${(21 + rise + 0.02 * Math.sin(i * 12.9898)).toFixed(2)}`;
  });
  return `${header}${rows.join('\n')}\n`;
}

/**
 * Writes a long recording of the same kind, at 10 kHz.
 *
 * @param bytes about so many
 * @returns time of its last row, s
 */
export function writeLongRecording(path: string, bytes: number): number {
  writeFileSync(path, header);
  const perRow = 17;
  const rows = Math.floor(bytes / perRow);
  const whole = rows / 1e4;
  let piece = '';
  for (let i = 0; i < rows; i++) {
    const t = i / 1e4;
    const part = t / whole;
    const rise = part < 0.1 ? 0 : part < 0.3 ? 400 * (part - 0.1) : 80 * Math.exp((0.3 - part) * 8);
    piece += `${t.toFixed(4).padStart(9, '0')}\t${(21 + rise).toFixed(3).padStart(6, '0')}\n`;
    if (piece.length < 1 << 20) continue;
    appendFileSync(path, piece);
    piece = '';
  }
  appendFileSync(path, piece);
  return whole;
}
