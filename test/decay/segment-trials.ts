import { seededRandom } from '../../src/practice/random.ts';
import { BlockAssembler } from '../../src/recording/index.ts';
import type { Trace } from '../../src/sensing/index.ts';

/** Simulated recordings of many kinds, with where their marks truly are. */
export interface MarkedTrial {
  readonly kind: string;
  readonly tau: number;
  readonly rate: number;
  readonly ambient: number;
  readonly peak: number;
  /** True times, s; null where the recording does not have them. */
  readonly heatOn: number | null;
  readonly heatOff: number | null;
  /** Next heating after the cooling, s, or the end of the recording. */
  readonly coolingEnd: number;
  readonly tail: number;
  readonly samples: Float64Array;
  /** True excess of the body over ambient at each sample, K. */
  readonly excess: Float64Array;
  readonly times: Float64Array | null;
  readonly trace: Trace;
}

export const kinds = [
  'plain',
  'ramp',
  'flat-top',
  'hot-tail',
  'cut-0.2',
  'cut-0.5',
  'starts-cooling',
  'starts-hot-plateau',
  'two-heatings',
  'spikes',
  'jet-step',
  'hand-warmed',
  'long-after',
  'coarse-step',
  'drift',
  'gap',
  'no-baseline',
] as const;
export type Kind = (typeof kinds)[number];

export const taus = [0.3, 1, 3, 10, 40, 100, 250] as const;

interface Piece {
  /** s */
  readonly length: number;
  /** Excess of the stream over ambient at a time in the piece, K. */
  readonly stream: (t: number) => number;
  /** Holds the body where it is. */
  readonly hold?: boolean;
}

/** A trace of evenly spaced readings, or of readings at given times. */
export function traceOf(
  samples: Float64Array,
  samplePeriod: number,
  times: Float64Array | null = null,
): Trace {
  const assembler = new BlockAssembler(samplePeriod);
  samples.forEach((x, i) => {
    assembler.add(times ? (times[i] ?? 0) : i * samplePeriod, x);
  });
  return {
    name: 'simulated',
    blocks: assembler.blocks(),
    samplePeriod,
    opening: samples.slice(0, 65536),
    chain: { offset: 0, scale: 0, nonlinearity: 0 },
    described: 'simulated in degrees',
    remarks: [],
  };
}

/** One seeded recording of a kind: noise, hum and rate are drawn at random within what the rig shows. */
export function markedTrial(kind: Kind, tau: number, seed: number): MarkedTrial {
  const random = seededRandom(seed * 7919 + Math.round(tau * 1000) * 31 + kinds.indexOf(kind) * 104729);
  const rise = 60 + 50 * random.uniform();
  const ambient = 18 + 10 * random.uniform();
  const rates =
    tau < 2 ? [100, 200, 500, 1000, 2000, 10000] : tau < 20 ? [20, 50, 100, 1000] : [1, 5, 10, 50, 100, 200];
  const drawnRate = rates[Math.floor(random.uniform() * rates.length)] ?? 100;
  const baseline =
    kind === 'no-baseline' ? 0 : 3 + 27 * random.uniform() ** 2 + (kind === 'hand-warmed' ? 25 : 0);
  const heating = Math.max(1.5, tau * (0.5 + 1.2 * random.uniform()));
  const stream = rise / -Math.expm1(-heating / tau);
  const cool =
    kind === 'cut-0.2' ? Math.log(5) : kind === 'cut-0.5' ? Math.log(2) : 3.2 + 2.5 * random.uniform();
  const tail = kind === 'hot-tail' ? (0.1 + 0.23 * random.uniform()) * Math.min(1, 3 * tau) : 0;
  const heat: Piece = { length: heating, stream: () => stream };
  const free: Piece = { length: cool * tau, stream: (t) => (tail > 0 ? stream * Math.exp(-t / tail) : 0) };
  const quiet: Piece = { length: baseline, stream: () => 0 };
  const shift = kind === 'jet-step' ? random.uniform() - 0.5 : 0;
  const pieces: Piece[] = [];
  if (kind === 'hand-warmed') {
    const bump = (2 + 4 * random.uniform()) / -Math.expm1(-3 / tau);
    pieces.push({ length: 6, stream: () => 0 }, { length: 3, stream: () => bump });
  }
  if (kind === 'starts-cooling') pieces.push(free);
  else if (kind === 'starts-hot-plateau') pieces.push({ length: 5, stream: () => 0, hold: true }, free);
  else if (kind === 'ramp') {
    const end = rampEnd(rise, heating * 1.5, tau);
    pieces.push(quiet, { length: heating * 1.5, stream: (t) => (end * t) / (heating * 1.5) }, free);
  } else if (kind === 'flat-top')
    pieces.push(quiet, heat, { length: 2 + 8 * random.uniform(), stream: () => 0, hold: true }, free);
  else if (kind === 'two-heatings')
    pieces.push(quiet, heat, { length: 4 * tau, stream: () => 0 }, heat, free);
  else if (kind === 'long-after')
    pieces.push(quiet, heat, free, { length: Math.max(30, 15 * tau), stream: () => 0 });
  else pieces.push(quiet, heat, free);

  const starts: number[] = [];
  let total = 0;
  for (const piece of pieces) {
    starts.push(total);
    total += piece.length;
  }
  const coolingPiece = pieces.indexOf(free);
  const heatOff = kind === 'starts-cooling' ? null : (starts[coolingPiece] ?? 0);
  const heatPiece = pieces.lastIndexOf(heat);
  const heatOn = heatPiece >= 0 ? (starts[heatPiece] ?? 0) : kind === 'ramp' ? baseline : null;

  // Long recordings are sampled slower: the tests must stay quick.
  let rate: number = drawnRate;
  while (rate * total > 60_000) rate /= 2;
  const dt = 1 / rate;
  const n = Math.floor(total * rate);
  const decay = Math.exp(-dt / tau);
  let excess = kind.startsWith('starts') ? rise : 0;
  let piece = 0;
  const ou = 0.1 + 0.5 * random.uniform() ** 2;
  const tc = tau < 2 ? 0.05 + 0.1 * random.uniform() : 0.2 + 0.5 * random.uniform();
  const white = 0.02 + 0.2 * random.uniform();
  const hum = random.uniform() < 0.5 ? 0 : random.uniform();
  const step = kind === 'coarse-step' ? 1 : random.uniform() < 0.3 ? 0.25 : 0;
  const drift = kind === 'drift' ? ((random.uniform() - 0.5) * 2) / 600 : 0;
  const memory = Math.exp(-dt / tc);
  const kick = Math.sqrt(1 - memory * memory);
  let wander = random.normal();
  const phase = 2 * Math.PI * random.uniform();
  const samples = new Float64Array(n);
  const bodyExcess = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const t = i * dt;
    while (piece < pieces.length - 1 && t >= (starts[piece + 1] ?? Number.POSITIVE_INFINITY)) piece++;
    const current = pieces[piece];
    if (current && i > 0) {
      const s = current.stream(t - (starts[piece] ?? 0) - dt / 2);
      if (!current.hold) excess = s + (excess - s) * decay;
    }
    bodyExcess[i] = excess;
    wander = memory * wander + kick * random.normal();
    let x = ambient + excess + ou * wander + white * random.normal() + drift * t;
    if (heatOff !== null && t >= heatOff && shift !== 0) x += shift * -Math.expm1(-(t - heatOff) / tau);
    x += hum * Math.sin(2 * Math.PI * 50 * t + phase);
    if (kind === 'spikes' && random.uniform() < 0.003)
      x += (random.uniform() < 0.5 ? -1 : 1) * (20 + 200 * random.uniform());
    samples[i] = step > 0 ? step * Math.round(x / step) : x;
  }
  let times: Float64Array | null = null;
  let kept = samples;
  let keptExcess = bodyExcess;
  if (kind === 'gap') {
    const from = total * (0.2 + 0.7 * random.uniform());
    const to = from + 0.05 * total;
    const inside = (i: number) =>
      i * dt >= from && i * dt < to && Math.abs(i * dt - (heatOff ?? 0)) > 0.3 * tau;
    const indices = Array.from(samples.keys()).filter((i) => !inside(i));
    times = Float64Array.from(indices, (i) => i * dt);
    kept = Float64Array.from(indices, (i) => samples[i] ?? 0);
    keptExcess = Float64Array.from(indices, (i) => bodyExcess[i] ?? 0);
  }
  return {
    kind,
    tau,
    rate,
    ambient,
    peak: ambient + rise,
    heatOn,
    heatOff,
    coolingEnd: total,
    tail,
    samples: kept,
    excess: keptExcess,
    times,
    trace: traceOf(kept, dt, times),
  };
}

/** End of a linear ramp of the stream that brings a body from 0 to `rise` in `length`. */
function rampEnd(rise: number, length: number, tau: number): number {
  const reached = 1 - (tau / length) * -Math.expm1(-length / tau);
  return rise / reached;
}
