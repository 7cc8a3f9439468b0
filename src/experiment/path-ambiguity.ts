import { optionsOf, type PathCodes, type PathToken } from './path-pattern.ts';

/**
 * Two readings of one text, side by side: the first has taken the pieces up to `ahead`, the second those up to
 * `behind`, and the first has spelled `lead` more than the second.
 */
interface Race {
  readonly ahead: number;
  readonly behind: number;
  readonly lead: string;
  readonly spelled: string;
}

/**
 * A text that a pattern can read in two ways, as `a-b-c` for `{group}-{body}` with groups a and a-b, bodies b-c and c.
 * Found as for the unique decodability of codes (Sardinas & Patterson, IRE Convention Record 2 (1953) 106), with the
 * pieces in their fixed order.
 *
 * @param tokens of the pattern
 * @param codes that the names stand for
 * @returns null where every text has at most one reading
 */
export function textReadTwoWays(tokens: readonly PathToken[], codes: PathCodes): string | null {
  const options = tokens.map((token) => optionsOf(token, codes));
  if (options.some((list) => list.length === 0)) return null;
  const races = openings(options);
  const seen = new Set<string>();
  for (let race = races.pop(); race !== undefined; race = races.pop()) {
    const { ahead, behind, lead, spelled } = race;
    if (lead === '' && ahead === behind) return spelled + restOf(options, ahead);
    const key = `${ahead} ${behind} ${lead}`;
    if (seen.has(key)) continue;
    seen.add(key);
    for (const option of options[behind] ?? []) {
      if (lead.startsWith(option)) {
        races.push({ ahead, behind: behind + 1, lead: lead.slice(option.length), spelled });
      } else if (option.startsWith(lead)) {
        const more = option.slice(lead.length);
        races.push({ ahead: behind + 1, behind: ahead, lead: more, spelled: spelled + more });
      }
    }
  }
  return null;
}

/** Every place where two readings can part: one code is the beginning of another. */
function openings(options: readonly (readonly string[])[]): Race[] {
  const races: Race[] = [];
  let before = '';
  for (const [place, list] of options.entries()) {
    const sorted = [...list].sort();
    for (const [i, short] of sorted.entries()) {
      // In order of their letters, those that begin with a code follow it.
      for (let j = i + 1; sorted[j]?.startsWith(short) ?? false; j++) {
        const long = sorted[j] ?? '';
        races.push({
          ahead: place + 1,
          behind: place + 1,
          lead: long.slice(short.length),
          spelled: before + long,
        });
      }
    }
    before += list[0] ?? '';
  }
  return races;
}

function restOf(options: readonly (readonly string[])[], from: number): string {
  return options
    .slice(from)
    .map((list) => list[0] ?? '')
    .join('');
}
