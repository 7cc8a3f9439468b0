/** What the group hears once the results are released. */
import { Fragment } from 'react';
import { Said } from '../frame/said.tsx';
import { asking } from './asking.ts';
import { blocksOf, spansOf } from './feedback-text.ts';
import { Hindrance } from './hindrance.tsx';
import { useAsked } from './use-asked.ts';
import { conditionWords } from './words.ts';

export function Feedback() {
  const { data, error, again } = useAsked(asking.feedback);
  return (
    <section className="room-part flow" aria-labelledby="feedback">
      <h2 id="feedback">Results and feedback</h2>
      {error !== null && <Hindrance error={error} again={again} />}
      {data !== null && (
        <>
          <section
            className="scroll"
            aria-label="Your time constants"
            // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
            tabIndex={0}
          >
            <table className="figures">
              <caption>Time constants of your recordings, with their standard uncertainties</caption>
              <thead>
                <tr>
                  <th scope="col">recording</th>
                  <th scope="col" className="number">
                    time constant
                  </th>
                </tr>
              </thead>
              <tbody>
                {data.recordings.map(({ name, body, flow, repeat, timeConstant, words }) => (
                  <tr key={name}>
                    <th scope="row">
                      {conditionWords(body, flow)}
                      {repeat === null ? '' : `, repeat ${repeat}`}
                    </th>
                    {timeConstant === null ? (
                      <td>
                        <Said>{words}</Said>
                      </td>
                    ) : (
                      <td className="number">{timeConstant.text}</td>
                    )}
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
          {data.text === null ? (
            <p>There is no feedback on values: none were handed in, or the course’s texts have a fault.</p>
          ) : (
            <Text>{data.text}</Text>
          )}
        </>
      )}
    </section>
  );
}

function Text({ children }: { readonly children: string }) {
  return (
    <div className="flow room-feedback">
      {blocksOf(children).map((block, i) => {
        const key = `${i}`;
        if (block.kind === 'list') {
          return (
            <ul key={key}>
              {block.items.map((item) => (
                <li key={item}>
                  <Spans>{item}</Spans>
                </li>
              ))}
            </ul>
          );
        }
        const Tag = block.kind === 'heading' ? 'h3' : 'p';
        return (
          <Tag key={key}>
            <Spans>{block.text}</Spans>
          </Tag>
        );
      })}
    </div>
  );
}

function Spans({ children }: { readonly children: string }) {
  return spansOf(children).map(({ text, strong }, i) => {
    const key = `${i} ${text}`;
    return strong ? <strong key={key}>{text}</strong> : <Fragment key={key}>{text}</Fragment>;
  });
}
