/** How the file was read, and which bytes it is. */
import type { ReactNode } from 'react';
import type { Detail } from '../../../src/server/contract/index.ts';
import { bytesWords, countWords, rateWords } from './words.ts';

export function FileFacts({ detail, projector }: { readonly detail: Detail; readonly projector: boolean }) {
  const { read, file } = detail;
  return (
    <section className="flow" aria-labelledby="file">
      <h2 id="file">How the file was read</h2>
      <dl className="facts">
        {!projector && <Fact name="file">{file.name}</Fact>}
        <Fact name="size">{bytesWords(file.bytes)}</Fact>
        <Fact name="samples">
          {countWords(read.samples)} at {rateWords(read.rate)}
          {detail.duration !== null && `, ${detail.duration.toFixed(1)} s`}
        </Fact>
        <Fact name="written">{read.dialect}</Fact>
        {!projector && (
          <Fact name="channel">
            {read.channel}
            {read.unit !== null && `, in ${read.unit}`}
          </Fact>
        )}
        <Fact name="temperature">{read.conversion}</Fact>
        {detail.startedAt !== null && !projector && <Fact name="started">{detail.startedAt}</Fact>}
        <Fact name="SHA-256">
          <span className="hash">{file.sha256}</span>
        </Fact>
        {detail.copyOf !== null && !projector && (
          <Fact name="copy">byte for byte the same as {detail.copyOf}: one of the two is left out</Fact>
        )}
      </dl>
    </section>
  );
}

function Fact({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}
