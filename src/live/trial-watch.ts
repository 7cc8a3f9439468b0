import {
  type BaselineReading,
  baselineLevel,
  chooseBlockWidth,
  cutBlocks,
  type DecaySettings,
  type EndForecast,
} from '../decay/index.ts';
import type { Trace } from '../sensing/index.ts';
import { adviseBench } from './advice.ts';
import { Course } from './course.ts';
import { forecastOf } from './forecast.ts';
import type { GateInput, TrialContext } from './gate-input.ts';
import { gatesOf } from './gates.ts';
import { worthOfGoingOn } from './going-on.ts';
import { Latest } from './latest.ts';
import { type PhaseNow, PhaseWatch } from './phase.ts';
import { blocksFrom, Stretches, type StretchPoint } from './stretches.ts';
import { coarseForLooks, fitTrial, type TrialFit } from './trial-fit.ts';
import type { Phase, TrialNow } from './types.ts';

/** Stretch of a point as a part of the time constant that was planned with, and its limits, s. */
const stretchPart = 0.02;
const stretchUsual = 0.25;
const shortestStretch = 0.1;
const longestStretch = 0.25;
/** A cooling and a baseline are looked at again when they have grown by these parts. */
const growth = 0.06;
const baselineGrowth = 0.15;
/** Nor sooner than after so long, s, and than after this part of the time constant. */
const shortestNews = 1;
const newsPart = 0.08;
/** The heat-off of a fit lies no further before the peak than this part of the time constant. */
const ownWithin = 0.5;
/** A cooling is recorded for about so many time constants. */
const coolingLength = 2.3;
/** For how long hot air lingers behind the peak, s, where nothing finer is known. */
const linger = 1;
/** Where no time constant is planned, s: about that of a sphere. */
const usualTimeConstant = 20;

/**
 * A trial while it is recorded. It is shown the trace so far about once a second and keeps what it found, so that the
 * costly parts are done again only when there is news in the readings.
 */
export class TrialWatch {
  readonly #settings: DecaySettings;
  readonly #stretchOf: (context: TrialContext) => number;
  #state: Watched | null = null;

  /** @param settings how the trial is judged */
  constructor(settings: DecaySettings) {
    this.#settings = settings;
    this.#stretchOf = ({ planned }) => {
      const wanted = planned === null ? stretchUsual : stretchPart * planned.value;
      return Math.min(longestStretch, Math.max(shortestStretch, wanted));
    };
  }

  /**
   * The trial now.
   *
   * @param trace the recording so far, in °C; one that ends sooner than the last one was begun anew
   * @param context what is known of the trial
   * @param growing whether more readings are to come
   * @param thorough whether the cooling may be fitted anew, which costs many times what all else does
   */
  take(trace: Trace, context: TrialContext, growing: boolean, thorough = true): TrialNow {
    const { blocks } = trace;
    const time = blocks.time[blocks.length - 1] ?? 0;
    if (this.#state === null || time < this.#state.time) {
      this.#state = new Watched(this.#settings, this.#stretchOf(context));
    }
    return this.#state.take(trace, time, context, growing, thorough);
  }
}

class Watched {
  readonly #settings: DecaySettings;
  readonly #stretches: Stretches;
  readonly #phases = new PhaseWatch();
  readonly #course = new Course();
  readonly #latest = new Latest();
  #trialFrom = 0;
  #fit: TrialFit | null = null;
  /** Of the latest fit of this cooling that could tell: where the noise of the next one cannot, it still holds. */
  #end: EndForecast | null = null;
  #fittedGrowing = true;
  #baseline: BaselineReading | null = null;
  #baselineUntil = 0;
  #reached: number | null = null;
  /** Whether it was said that the trial can be stopped; that is not taken back. */
  #mayStop = false;
  #time = 0;

  constructor(settings: DecaySettings, stretch: number) {
    this.#settings = settings;
    this.#stretches = new Stretches(stretch);
  }

  get time(): number {
    return this.#time;
  }

  take(trace: Trace, time: number, context: TrialContext, growing: boolean, thorough: boolean): TrialNow {
    this.#time = time;
    for (const point of this.#stretches.take(trace.blocks)) this.#follow(point);
    const thermal = this.#phases.now;
    if (thermal.trialFrom !== this.#trialFrom) this.#beginAnew(thermal.trialFrom);
    const planned = context.planned?.value ?? null;
    this.#lookAtBaseline(trace, thermal, planned ?? usualTimeConstant);
    const ended = !growing && this.#fittedGrowing;
    this.#fittedGrowing = growing;
    if (ended) this.#fit = fitTrial(trace, this.#trialFrom, this.#settings);
    else this.#lookAtCooling(trace, thermal, planned ?? usualTimeConstant, thorough);
    if (thermal.phase !== 'cooling') this.#reached = null;
    const errorFraction = this.#errorFraction(thermal);
    if (
      thermal.phase === 'cooling' &&
      errorFraction !== null &&
      errorFraction <= this.#settings.endFraction
    ) {
      this.#reached ??= time;
      this.#phases.complete(time);
    }
    const phase = this.#phaseNow(thermal, growing);
    return this.#tell(trace, context, growing, thermal, phase, errorFraction);
  }

  #follow(point: StretchPoint): void {
    this.#phases.take(point);
    this.#course.add(point);
    this.#latest.add(point);
  }

  #beginAnew(trialFrom: number): void {
    this.#trialFrom = trialFrom;
    this.#course.forgetBefore(trialFrom);
    this.#fit = null;
    this.#end = null;
    this.#baseline = null;
    this.#baselineUntil = 0;
    this.#reached = null;
    this.#mayStop = false;
  }

  #phaseNow({ phase }: PhaseNow, growing: boolean): Phase {
    if (!growing && phase !== 'waiting') return 'done';
    return this.#reached === null ? phase : 'done';
  }

  #lookAtBaseline(trace: Trace, { phase, trialFrom, heatOn, level }: PhaseNow, planned: number): void {
    if (phase === 'waiting' || (phase === 'cooling' && level === null)) return;
    const until = heatOn ?? this.#time;
    const length = until - trialFrom;
    const looked = this.#baselineUntil - trialFrom;
    const same =
      phase === 'baseline' ? length < (1 + baselineGrowth) * looked : until === this.#baselineUntil;
    if (!(length > 0) || same) return;
    const span = { from: trialFrom, to: until };
    // Blocks as wide as those of the cooling will be, which are fewer and cheaper.
    const width = chooseBlockWidth(
      trace,
      Math.max(length, coolingLength * planned),
      planned,
      this.#settings.mains,
    );
    this.#baseline = baselineLevel(cutBlocks(trace, span, width));
    this.#baselineUntil = until;
  }

  #lookAtCooling(trace: Trace, { phase, since }: PhaseNow, planned: number, thorough: boolean): void {
    if (phase === 'heating' || phase === 'baseline') {
      this.#fit = null;
      this.#end = null;
    }
    if (phase !== 'cooling' || !thorough) return;
    const recorded = this.#time - since;
    const news = this.#time - (this.#fit?.until ?? since);
    if (news < Math.max(growth * recorded, shortestNews, newsPart * planned)) return;
    const fit = fitTrial(coarseForLooks(trace, this.#settings.mains), this.#trialFrom, this.#settings);
    // A cooling before this one says nothing of it.
    const own = fit.curve === null || fit.curve.heatOff > since - ownWithin * fit.curve.timeConstant;
    this.#fit = own ? fit : null;
    this.#end = own ? (fit.end ?? this.#end) : null;
  }

  /** By the fitted curve where there is one: without noise, it does not come and go. */
  #errorFraction({ phase, level, peak }: PhaseNow): number | null {
    if (phase !== 'cooling') return this.#fit?.decay.endFraction ?? null;
    const curve = this.#fit?.curve ?? null;
    if (curve !== null) return Math.exp((curve.heatOff - this.#time) / curve.timeConstant);
    const { temperature } = this.#latest;
    if (level === null || peak === null || temperature === null) return null;
    return (temperature - level) / (peak.temperature - level);
  }

  #worth(thermal: PhaseNow, errorFraction: number | null): number | null {
    if (this.#mayStop) return 0;
    const curve = this.#fit?.curve ?? null;
    const fit = this.#fit?.decay.fit ?? null;
    if (curve === null || fit === null || errorFraction === null) return null;
    const { ambientOffset, drift } = this.#settings;
    const worth = worthOfGoingOn({
      timeConstant: curve.timeConstant,
      step: curve.step,
      errorFraction,
      noise: fit.noise,
      ambientOffset: this.#baseline === null ? Number.POSITIVE_INFINITY : ambientOffset,
      drift,
      baseline: this.#baseline?.duration ?? 0,
      heating: Math.max(0, curve.heatOff - (thermal.heatOn ?? curve.heatOff)),
      spent: this.#time - this.#trialFrom,
    });
    return Number.isFinite(worth) ? worth : null;
  }

  #tell(
    trace: Trace,
    context: TrialContext,
    growing: boolean,
    thermal: PhaseNow,
    phase: Phase,
    errorFraction: number | null,
  ): TrialNow {
    const settings = this.#settings;
    const fit = this.#fit;
    const decay = fit?.decay ?? null;
    const curve = fit?.curve ?? null;
    const baseline = decay?.baseline ?? this.#baseline;
    const common = {
      phase,
      time: this.#time,
      temperature: this.#latest.temperature,
      slope: this.#latest.slope,
      ambient: curve?.ambientAt(this.#time) ?? baseline?.mean ?? null,
      peak: decay?.segments.peak ?? thermal.peak,
      errorFraction,
      timeConstant: fit?.timeConstant ?? null,
      forecast:
        phase === 'cooling'
          ? forecastOf({
              time: this.#time,
              end: this.#end,
              planned: context.planned,
              peak: thermal.peak?.time ?? null,
              endFraction: settings.endFraction,
            })
          : null,
    };
    const input: GateInput = {
      ...common,
      trace: { ...trace, blocks: blocksFrom(trace.blocks, this.#trialFrom) },
      settings,
      context,
      baseline,
      recordedBefore:
        (thermal.heatOn ?? (thermal.phase === 'cooling' ? this.#trialFrom : this.#time)) - this.#trialFrom,
      cooling: this.#cleanCooling(thermal, phase),
      noise: decay?.noise ?? null,
      adequacy: decay?.adequacy ?? null,
      remarks: decay?.remarks ?? [],
    };
    const gates = gatesOf(input);
    const advice = adviseBench({
      phase,
      growing,
      gates,
      temperature: common.temperature,
      target: settings.target,
      forecast: common.forecast,
      worth: phase === 'done' && growing ? this.#worth(thermal, errorFraction) : null,
      length: curve === null ? null : (this.#time - curve.heatOff) / curve.timeConstant,
    });
    if (phase === 'done' && advice.action === 'stop') this.#mayStop = true;
    return {
      ...common,
      since: phase === 'done' ? (this.#reached ?? this.#time) : thermal.since,
      heatOff:
        curve?.heatOff ?? decay?.segments.heatOff ?? (thermal.phase === 'cooling' ? thermal.since : null),
      gates,
      advice,
      series: this.#course.series,
    };
  }

  /**
   * Of the latest analysis, grown to now. A logger that writes in large pieces may bring the end of a cooling before it
   * was analyzed at all: it then counts by its temperatures, until there is a fit.
   */
  #cleanCooling({ phase: thermal, since }: PhaseNow, phase: Phase): GateInput['cooling'] {
    const fit = this.#fit;
    const cooling = fit?.decay.segments.cooling ?? null;
    if (cooling !== null) return { from: cooling.from, to: Math.max(cooling.to, this.#time) };
    const unseen = fit === null || fit.until < this.#time;
    const ended = thermal === 'cooling' && phase === 'done';
    return unseen && ended ? { from: Math.min(since + linger, this.#time), to: this.#time } : null;
  }
}
