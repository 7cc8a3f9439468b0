import { conditionName, type Experiment, entryOf } from '../experiment/index.ts';
import {
  lengthWords,
  rigOf,
  type SessionFigureData,
  schematicFigure,
  schematicTable,
  timelineFigure,
  timelineTable,
} from '../figure/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import type { BriefingInput } from './briefing-types.ts';
import type { Block, Text } from './document.ts';
import { drawing, paperTheme } from './drawings.ts';

/** The rig, drawn. */
export function setUpBlocks({ experiment }: BriefingInput): Block[] {
  const rig = rigOf(experiment);
  return [
    {
      kind: 'figure',
      figure: drawing(schematicFigure(rig, { theme: paperTheme, width: 760 }), null, schematicTable(rig)),
    },
    {
      kind: 'notes',
      text: 'Walk along the air line with a finger, then back along the signal. Ask: which temperature is the ambient of this experiment, that of the room or that of the jet, and where is it measured? The supplied air expands and is not room air.',
    },
  ];
}

/** What has to be said to those who heat bodies and open valves. */
export function cautionBlocks({ plan }: BriefingInput): Block[] {
  return [
    ...plan.cautions.map(({ message, action }): Block => {
      const told = action.replace(/^Tell the class: /, '');
      return { kind: 'caution', text: `${message} ${told.charAt(0).toUpperCase()}${told.slice(1)}` };
    }),
    { kind: 'heading', level: 2, text: 'Before anything is switched on' },
    {
      kind: 'list',
      ordered: false,
      items: [
        'Look over cords, hoses and couplings first; what is frayed or leaks is reported, not used.',
        'A body stays hot for minutes after the heat is off, and metal does not look hot.',
        'The rules of this laboratory come first; where they ask for more, do more.',
      ],
    },
    {
      kind: 'notes',
      text: 'Show where the main switch, the air shut-off, running cold water and the first-aid box are. Show once how the heat is taken away and where the hot tool is put down.',
    },
  ];
}

/** How the rig is set, and what to mind in it. */
export function settingBlocks({ experiment, plan }: BriefingInput): Block[] {
  const rows = schematicTable(rigOf(experiment)).rows.map((row): Text[] => row.map(String));
  const blocks: Block[] = [
    {
      kind: 'table',
      table: {
        caption: null,
        columns: [
          { title: 'part', align: 'start', share: 1 },
          { title: 'set to, or measured as', align: 'start', share: 3 },
        ],
        rows: rows.filter(([, numbers]) => numbers !== ''),
      },
    },
  ];
  if (plan.advice.length > 0) {
    blocks.push(
      { kind: 'heading', level: 2, text: 'Worth knowing of these settings' },
      { kind: 'list', ordered: false, items: plan.advice.map(({ message }) => message) },
    );
  }
  const meter = experiment.meter;
  if (meter?.kind === 'variable-area') {
    blocks.push({
      kind: 'notes',
      text: 'The meter shows what its scale was made for. With another pressure or temperature inside, the true flow is another: the pressure in the meter is read while the air flows.',
    });
  }
  return blocks;
}

/** What is run and what is not, and why. */
export function conditionBlocks({ experiment, plan }: BriefingInput): Block[] {
  const { leftOut, unplanned, timeLine, conditions } = plan;
  const bodies = [...new Set(conditions.map(({ condition }) => condition.body))];
  const flows = [...new Set(conditions.map(({ condition }) => condition.flow))];
  const run = new Set(timeLine.fitting.map(conditionName));
  const blocks: Block[] = [
    {
      kind: 'table',
      table: {
        caption: `What is run in one session, ${experiment.protocol.repeats} trials each.`,
        columns: [
          { title: 'body', align: 'start' },
          { title: 'diameter', align: 'end' },
          { title: 'of', align: 'start' },
          ...flows.map((flow) => ({ title: flowWords(experiment, flow), align: 'start' as const })),
        ],
        rows: bodies.map((body) => {
          const entry = entryOf(experiment.bodies, body);
          return [
            entry?.name ?? body,
            entry?.diameter === undefined ? '' : lengthWords(entry.diameter.value),
            entry?.material?.material.name ?? '',
            ...flows.map((flow) => (run.has(conditionName({ body, flow })) ? 'run' : '–')),
          ];
        }),
      },
    },
  ];
  const left: Text[] = [
    ...leftOut.map((one): Text => [{ kind: 'strong', text: conditionName(one) }, `: ${one.why}`]),
    ...timeLine.notFitting.map(
      (one): Text => [{ kind: 'strong', text: conditionName(one) }, ': does not fit into the session'],
    ),
    ...unplanned.map(
      ({ condition, message }): Text => [{ kind: 'strong', text: conditionName(condition) }, `: ${message}`],
    ),
  ];
  if (left.length > 0) {
    blocks.push(
      { kind: 'heading', level: 2, text: 'What is left out, and why' },
      { kind: 'list', ordered: false, items: left },
    );
  }
  blocks.push({
    kind: 'notes',
    text: 'Before the first trial, let each group write down which body it expects to be the slowest, and by what factor. Bodies that differ in one thing alone, diameter or material, are what makes a comparison.',
  });
  return blocks;
}

/** The order, and how long each trial takes. */
export function runOrderBlocks({ experiment, plan }: BriefingInput): Block[] {
  const order = new Map(plan.timeLine.fitting.map((one, i) => [conditionName(one), i]));
  const planned = plan.conditions
    .filter(({ condition }) => order.has(conditionName(condition)))
    .toSorted((a, b) => {
      return (order.get(conditionName(a.condition)) ?? 0) - (order.get(conditionName(b.condition)) ?? 0);
    });
  const data = sessionData(experiment, plan);
  return [
    {
      kind: 'table',
      table: {
        caption: 'In this order. Times in s, by the expected time constants.',
        columns: [
          { title: 'body', align: 'start' },
          { title: 'flow', align: 'start' },
          { title: 'trials', align: 'end' },
          { title: 'baseline', align: 'end' },
          { title: 'heating', align: 'end' },
          { title: 'cooling', align: 'end' },
          { title: 'τ expected', align: 'end' },
        ],
        rows: planned.map(({ condition, trial, timeConstant }) => [
          condition.body,
          flowWords(experiment, condition.flow),
          String(experiment.protocol.repeats),
          String(Math.round(trial.baseline)),
          String(Math.round(trial.heating)),
          String(Math.round(trial.cooling)),
          formatSignificant(timeConstant.value, 2),
        ]),
      },
    },
    { kind: 'heading', level: 2, text: 'The session as a time line' },
    {
      kind: 'figure',
      figure: drawing(
        timelineFigure(data, { theme: paperTheme, width: 900 }),
        'One row a trial, to scale, with what leads up to it.',
        timelineTable(data),
      ),
    },
    {
      kind: 'notes',
      text: 'Quick bodies come first, so that a slip costs little. Call out the time at a quarter, a half and three quarters of the session; the reserve is for repeats.',
    },
  ];
}

/** What to wait for and what to look at while a trial runs. */
export function watchBlocks({ experiment }: BriefingInput): Block[] {
  const { protocol, bodies } = experiment;
  const end = protocol['end-fraction'];
  const rows: [string, Text][] = [
    ['baseline', `at least ${Math.round(protocol.baseline)} s with the body at rest in the air of the trial`],
  ];
  if (protocol.target !== undefined) rows.push(['heat to', `${degrees(protocol.target)} °C`]);
  if (protocol.limit !== undefined) rows.push(['never above', `${degrees(protocol.limit)} °C`]);
  for (const [code, { target, limit }] of Object.entries(bodies).slice(0, 12)) {
    const own = [
      target === undefined || target === protocol.target ? null : `heat to ${degrees(target)} °C`,
      limit === undefined || limit === protocol.limit ? null : `never above ${degrees(limit)} °C`,
    ].filter((one) => one !== null);
    if (own.length > 0) rows.push([code, own.join(', ')]);
  }
  rows.push(
    ['heat off', 'at once and whole, with the jet running; from then on nothing is touched'],
    [
      'stop when',
      `an error fraction of ${end} is left: ${formatSignificant(-Math.log(end), 2)} time constants after the heat went off`,
    ],
    [
      'before the next trial',
      'save, look at the trace, write down what was unusual; wait until the body is back at ambient',
    ],
  );
  return [
    { kind: 'facts', rows },
    {
      kind: 'notes',
      text: 'A trial that was spoiled is repeated while the group still stands at the rig. Looking at the trace takes ten seconds; finding out at home takes the whole session.',
    },
  ];
}

function sessionData(
  { session }: Experiment,
  { timeLine, length }: BriefingInput['plan'],
): SessionFigureData {
  const [hours, minutes] = (session.start ?? '').split(':').map(Number);
  return {
    stretches: timeLine.stretches.map(({ kind, from, to, condition, repeat }) => {
      return { kind, from, to, repeat, condition: condition === null ? null : conditionName(condition) };
    }),
    length,
    start: hours === undefined || minutes === undefined ? null : 60 * hours + minutes,
    notFitting: [],
  };
}

/** A flow as it is set. */
export function flowWords({ flows }: Experiment, code: string): string {
  const setting = entryOf(flows, code);
  if (setting === undefined) return code;
  return setting.kind === 'still' ? 'still air' : (setting.written.split(/\s*(?:\+-|\+\/-|±)/)[0] ?? code);
}

/** As one sets it: no digits that nobody asked for. */
function degrees(value: number): string {
  return String(Number(value.toPrecision(4))).replace('-', '−');
}
