import type { Decay, DecaySettings } from '../decay/index.ts';
import { formatWithUncertainty } from '../quantity/index.ts';
import type { Recording } from '../recording/index.ts';
import type { Span } from '../remark/index.ts';
import { type Chain, type ThermocoupleChain, type Trace, thermocoupleEmf } from '../sensing/index.ts';
import { commonPractice, decimals, figures, formula, type StepQuoting } from './steps-formula.ts';
import type { WrittenFormula, WrittenStep } from './steps-types.ts';
import { dialectWords, grouped, hertz } from './words.ts';

/** How the file's numbers became degrees, with its first reading as the example. */
export function readingStep(recording: Recording, trace: Trace, chain: Chain): WrittenStep {
  const { samples, rate, duration, channel } = recording;
  const first = { logged: recording.opening[0] ?? Number.NaN, degrees: trace.opening[0] ?? Number.NaN };
  return {
    id: 'reading',
    title: 'From the file to degrees',
    text: [
      `${grouped(samples)} readings of ${channel.name}, ${hertz(rate)}, over ${decimals(duration, 1)} s; ${dialectWords(recording)}.`,
      trace.described,
    ],
    formulas: conversion(recording, chain, first),
    table: null,
    result: Number.isFinite(first.degrees)
      ? `The first reading, ${figures(first.logged)} ${unitWords(channel.unit)}, is ${decimals(first.degrees, 4)} °C.`
      : 'The first reading is outside the range of the sensor.',
    source: null,
  };
}

interface FirstReading {
  /** In the channel's unit. */
  readonly logged: number;
  /** °C */
  readonly degrees: number;
}

function conversion(recording: Recording, chain: Chain, first: FirstReading): WrittenFormula[] {
  if (!Number.isFinite(first.degrees)) return [];
  switch (chain.kind) {
    case 'degrees':
      return degreesConversion(recording, first);
    case 'thermocouple':
      return thermocoupleConversion(recording, chain, first);
    case 'resistance':
      return [
        formula(
          'R(T) = R_0\\,(1 + A\\,T + B\\,T^2),\\quad R_0 = <R0>\\ \\Omega',
          'R(T) = R0 (1 + A T + B T²) from 0 °C up, R0 = <R0> ohm, A = 3.9083e-3 /°C, B = −5.775e-7 /°C²',
          { R0: String(chain.nominal) },
          'IEC 60751:2008, equation 2',
        ),
        formula(
          'R(<T>\\ \\text{°C}) = <R>\\ \\Omega',
          'R(<T> °C) = <R> ohm',
          { T: decimals(first.degrees, 4), R: figures(first.logged, 8) },
          'IEC 60751:2008, equation 2',
        ),
      ];
    case 'linear':
      return [
        formula(
          'T = <b>\\ \\text{°C} + <a>\\ \\mathrm{K/V} \\cdot V = <T>\\ \\text{°C}',
          'T = <b> °C + <a> K/V · V = <T> °C',
          { a: figures(chain.slope), b: figures(chain.offset), T: decimals(first.degrees, 4) },
          commonPractice,
        ),
      ];
  }
}

function degreesConversion({ channel }: Recording, first: FirstReading): WrittenFormula[] {
  const values = { x: figures(first.logged, 8), T: decimals(first.degrees, 4) };
  if (channel.unit === 'degF') {
    return [
      formula(
        'T = \\frac{5}{9}\\,(<x> - 32) = <T>\\ \\text{°C}',
        'T = (5/9) (<x> − 32) = <T> °C',
        values,
        'definition of the degree Fahrenheit',
      ),
    ];
  }
  if (channel.unit === 'K') {
    return [
      formula(
        'T = <x>\\ \\mathrm{K} - 273.15\\ \\mathrm{K} = <T>\\ \\text{°C}',
        'T = <x> K − 273.15 K = <T> °C',
        values,
        'definition of the degree Celsius',
      ),
    ];
  }
  return [];
}

const voltsPer: Readonly<Record<string, number>> = { V: 1, mV: 1e-3, uV: 1e-6 };

function thermocoupleConversion(
  recording: Recording,
  chain: ThermocoupleChain,
  first: FirstReading,
): WrittenFormula[] {
  const source = 'reference function of ITS-90: Burns et al., NIST Monograph 175 (1993); IEC 60584-1';
  const general = formula(
    'E(T) = \\frac{V - V_0}{G} + E(T_\\mathrm{ref})',
    'E(T) = (V − V0)/G + E(T_ref)',
    {},
    source,
  );
  const volts = first.logged * (voltsPer[recording.channel.unit ?? ''] ?? Number.NaN);
  const emf = thermocoupleEmf(chain.type, first.degrees);
  if (typeof chain.zero !== 'number' || !Number.isFinite(emf) || !Number.isFinite(volts)) return [general];
  const measured = (volts - chain.zero) / chain.gain;
  return [
    general,
    formula(
      'E(T) = \\frac{<V>\\ \\mathrm{mV} - <V0>\\ \\mathrm{mV}}{<G>} + <Eref>\\ \\mathrm{mV} = <E>\\ \\mathrm{mV} \\;\\Rightarrow\\; T = <T>\\ \\text{°C}',
      'E(T) = (<V> mV − <V0> mV)/<G> + <Eref> mV = <E> mV, so T = <T> °C',
      {
        V: figures(volts * 1e3, 7),
        V0: figures(chain.zero * 1e3, 5),
        G: String(chain.gain),
        // What the reference junction adds is the rest: to the rounding of the inverse, 1e-9 °C.
        Eref: decimals(chain.junction.kind === 'ice' ? 0 : (emf - measured) * 1e3, 5),
        E: decimals(emf * 1e3, 5),
        T: decimals(first.degrees, 4),
      },
      source,
    ),
  ];
}

function unitWords(unit: string | null): string {
  const words: Readonly<Record<string, string>> = { degC: '°C', degF: '°F', uV: 'µV', ohm: 'Ω' };
  return unit === null ? '' : (words[unit] ?? unit);
}

/** The ambient: mean of the baseline, its own uncertainty, and by how much the jet may differ. */
export function ambientStep(decay: Decay, settings: DecaySettings, quoting: StepQuoting): WrittenStep | null {
  const { ambient, baseline } = decay;
  if (ambient === null) return null;
  const formulas: WrittenFormula[] = [];
  const text = [`Taken as the ambient: ${ambient.reason}.`];
  if (baseline !== null) {
    const between = decay.segments.baseline;
    const where =
      between === null ? '' : ` from ${decimals(between.from, 2)} s to ${decimals(between.to, 2)} s`;
    text.push(
      `The baseline${where} is taken in ${baseline.blocks} block means. Neighbouring readings are alike, so its mean is known less well than s/√n would say: L is what one block adds to the variance of a long mean, and the stretch is short, so the uncertainty is ${figures(baseline.standardUncertainty, 3)} K.`,
    );
    formulas.push(
      formula(
        'T_\\mathrm{b} = \\frac{1}{n}\\sum_{i} T_i = <mean>\\ \\text{°C},\\quad n = <n>',
        'T_b = (1/n) Σ T_i = <mean> °C, n = <n>',
        { mean: decimals(baseline.mean, 4), n: String(baseline.blocks) },
        'JCGM 100:2008, 4.2.1',
      ),
    );
    const { noise } = baseline;
    if (noise !== null) {
      formulas.push(
        formula(
          'u^2(T_\\mathrm{b}) \\approx \\frac{L}{n} = \\frac{<L>\\ \\mathrm{K}^2}{<n>} = (<rough>\\ \\mathrm{K})^2',
          'u²(T_b) ≈ L/n = <L> K²/<n> = (<rough> K)²',
          {
            L: figures(noise.longRunVariance, 4),
            n: String(baseline.blocks),
            rough: figures(Math.sqrt(noise.longRunVariance / baseline.blocks), 3),
          },
          'mean of correlated readings: Bayley & Hammersley, J. R. Stat. Soc. Suppl. 8 (1946) 184',
        ),
      );
    }
  }
  if (ambient.source === 'baseline' && baseline !== null) {
    formulas.push(
      formula(
        'u^2(T_\\infty) = u^2(T_\\mathrm{b}) + u^2(\\mathrm{jet}) = (<b>\\ \\mathrm{K})^2 + (<o>\\ \\mathrm{K})^2 = (<u>\\ \\mathrm{K})^2',
        'u²(T∞) = u²(T_b) + u²(jet) = (<b> K)² + (<o> K)² = (<u> K)²',
        {
          b: figures(baseline.standardUncertainty, 4),
          o: figures(settings.ambientOffset, 4),
          u: figures(ambient.standardUncertainty, 4),
        },
        'JCGM 100:2008, equation 10; the jet’s difference is the experiment file’s ambient-offset',
      ),
    );
  }
  const { text: written } = formatWithUncertainty(ambient.value, ambient.standardUncertainty, {
    ...quoting,
    unit: '°C',
    minus: 'true',
  });
  return {
    id: 'ambient',
    title: 'The ambient',
    text,
    formulas,
    table: null,
    result: `T∞ = ${written}, standard uncertainty.`,
    source: null,
  };
}

/** Where the cooling begins and ends, and what is left out. */
export function coolingStep(decay: Decay): WrittenStep {
  const { segments, fit, endFraction } = decay;
  const { heatOff, hotTail, cooling } = segments;
  const rows = [
    row('baseline', segments.baseline),
    row('heating', segments.heating),
    row('hot tail, left out', hotTail),
    row('clean cooling', cooling),
    row('window of the logarithms', decay.window),
  ].filter((one) => one !== null);
  const text = [
    heatOff === null
      ? 'When the heat went off is not seen in this recording.'
      : `The heat went off at ${decimals(heatOff, 2)} s, where a straight line and an exponential meet best.`,
  ];
  if (hotTail !== null) {
    text.push(
      `Hot air dies away until ${decimals(hotTail.to, 2)} s: ${decimals(hotTail.to - hotTail.from, 2)} s are left out.`,
    );
  }
  if (fit !== null) {
    text.push(
      `The exponential is fitted from ${decimals(fit.start, 2)} s on, when the first of the fall is over: a sphere has then settled to one temperature profile.`,
    );
  }
  const end =
    endFraction === null ? '' : ` The recording ends at an error fraction of ${figures(endFraction, 2)}.`;
  return {
    id: 'cooling',
    title: 'Where the cooling begins and ends',
    text,
    formulas: [],
    table: rows.length === 0 ? null : { columns: ['stretch', 'from / s', 'to / s'], rows },
    result:
      cooling === null
        ? 'There is no cooling that could be used.'
        : `Clean cooling from ${decimals(cooling.from, 2)} s to ${decimals(cooling.to, 2)} s.${end}`,
    source: commonPractice,
  };
}

function row(name: string, span: Span | null): string[] | null {
  return span === null ? null : [name, decimals(span.from, 2), decimals(span.to, 2)];
}
