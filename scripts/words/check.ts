import { readdirSync, readFileSync } from 'node:fs';
import { type Area, type Concept, concepts, exceptions, sharedNames } from './vocabulary.ts';

/** A text of the project. */
export interface Text {
  readonly path: string;
  readonly area: Area;
  readonly text: string;
}

const places: readonly (readonly [Area, string])[] = [
  ['source', 'src'],
  ['page', 'web/src'],
  ['docs', 'docs'],
  ['test', 'test'],
  ['example', 'examples'],
];
const top = ['README.md', 'CHANGELOG.md', 'CONTRIBUTING.md', 'SECURITY.md'];
/** What people write; what is measured, drawn or made stands in other files. */
const written = /\.(?:tsx?|md|ya?ml)$/;
/** Tables and files of others, word for word. */
const foreign = /^test\/(?:reference|recording\/files)\//;

/** Every text in which the words of the project stand. */
export function projectTexts(): Text[] {
  const below = places.flatMap(([area, folder]) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
      .filter((path) => written.test(path) && !foreign.test(path) && !path.startsWith('docs/api/'))
      .map((path) => ({ area, path })),
  );
  const pages = top.map((path): Omit<Text, 'text'> => ({ area: 'docs', path }));
  return [...below, ...pages].map((one) => ({ ...one, text: readFileSync(one.path, 'utf8') }));
}

/** A name in prose, in the plural, and as programs write it: `time-constant`, `timeConstant`. */
function patternOf(name: string): RegExp {
  const [first = '', ...more] = name.split(/[ -]/);
  const rest = more.map((word) => `(?:[\\s_-]${eitherCase(word)}|${capital(word)})`).join('');
  return new RegExp(`(?<![A-Za-z])${eitherCase(first)}${rest}s?(?![a-z])`, 'g');
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}

function eitherCase(word: string): string {
  return `[${word.charAt(0).toLowerCase()}${word.charAt(0).toUpperCase()}]${word.slice(1)}`;
}

/** Every place at which a concept stands under another name, each as a sentence. */
export function otherNames(texts: readonly Text[], of: readonly Concept[] = concepts): string[] {
  return of.flatMap(({ name, not }) =>
    not.flatMap((word) => {
      const pattern = patternOf(word);
      return texts.flatMap(({ path, text }) => {
        const excepted = exceptions.some((one) => {
          return path.startsWith(one.path) && (one.word === '' || one.word === word);
        });
        if (excepted) return [];
        return [...text.matchAll(pattern)].map(({ index }) => {
          const line = text.slice(0, index).split('\n').length;
          return `${path}, line ${line}: "${word}"; the project says "${name}".`;
        });
      });
    }),
  );
}

/** Concepts that are not found where they should be, each as a sentence. */
export function missingNames(texts: readonly Text[], of: readonly Concept[] = concepts): string[] {
  return of.flatMap(({ name, in: areas }) => {
    const pattern = new RegExp(patternOf(name).source);
    return areas
      .filter((area) => !texts.some((one) => one.area === area && pattern.test(one.text)))
      .map((area) => `"${name}" is nowhere in ${area}.`);
  });
}

const declaration =
  /^export (?:async )?(?:function\*? (\w+)|const (\w+)(?:: [^=]+)? = (?:async )?(?:<[^>]+>)?\([^)]*\)(?:: [^=]+)? =>)/gm;

/** Functions that two rooms export under one name without a reason, each as a sentence. */
export function twiceNamed(texts: readonly Text[]): string[] {
  const rooms = new Map<string, Set<string>>();
  for (const { area, path, text } of texts) {
    const [, room] = path.split('/');
    if (area !== 'source' || room === undefined || !path.endsWith('.ts')) continue;
    for (const [, plain, arrow] of text.matchAll(declaration)) {
      const name = plain ?? arrow ?? '';
      rooms.set(name, (rooms.get(name) ?? new Set()).add(room));
    }
  }
  const reasons = new Set(sharedNames.map(({ name }) => name));
  return [...rooms]
    .filter(([name, own]) => own.size > 1 && !reasons.has(name))
    .map(([name, own]) => `${name} is exported by ${[...own].join(' and ')}: one name, one meaning.`);
}

/** Reasons for names that no two rooms share any more. */
function idleReasons(texts: readonly Text[]): string[] {
  const source = texts.filter(({ area }) => area === 'source');
  return sharedNames
    .filter(({ name }) => {
      const own = new RegExp(`^export (?:async )?(?:function\\*?|const) ${name}\\b`, 'm');
      return source.filter(({ text }) => own.test(text)).length < 2;
    })
    .map(({ name }) => `${name} is shared no longer: take its reason out.`);
}

/** Everything that is amiss with the words of the project. */
export function wordFaults(texts: readonly Text[]): string[] {
  return [...otherNames(texts), ...missingNames(texts), ...twiceNamed(texts), ...idleReasons(texts)];
}
