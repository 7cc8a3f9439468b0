import { type Choice, groupsAfter, toggled } from './choice.ts';

/** Which conditions and groups count: lists of words to tick, kept in the address. */
export function Choose({
  names,
  groups,
  choice,
  choose,
}: {
  readonly names: readonly string[];
  readonly groups: readonly string[];
  readonly choice: Choice;
  readonly choose: (next: Choice) => void;
}) {
  const { without, groups: chosen } = choice;
  const shown = names.filter((name) => !without.includes(name)).length;
  return (
    <details className="compare-choose not-on-paper" open={without.length > 0 || chosen.length > 0}>
      <summary>
        {shown} of {names.length} conditions
        {groups.length > 0 && (
          <>, {chosen.length === 0 ? 'all groups' : `${chosen.length} of ${groups.length} groups`}</>
        )}
        : choose
      </summary>
      <fieldset>
        <legend>Conditions</legend>
        <div className="compare-ticks">
          {names.map((name) => (
            <label key={name}>
              <input
                type="checkbox"
                checked={!without.includes(name)}
                onChange={() => choose({ ...choice, without: toggled(without, name) })}
              />{' '}
              {name}
            </label>
          ))}
        </div>
      </fieldset>
      {groups.length > 0 && (
        <fieldset>
          <legend>Groups whose recordings count</legend>
          <div className="compare-ticks">
            {groups.map((group) => (
              <label key={group}>
                <input
                  type="checkbox"
                  checked={chosen.length === 0 || chosen.includes(group)}
                  onChange={() => choose({ ...choice, groups: groupsAfter(groups, chosen, group) })}
                />{' '}
                {group}
              </label>
            ))}
          </div>
        </fieldset>
      )}
      {(without.length > 0 || chosen.length > 0) && (
        <button type="button" className="word" onClick={() => choose({ without: [], groups: [] })}>
          all conditions and groups again
        </button>
      )}
    </details>
  );
}
