import { describe, expect, it } from 'vitest';
import { binaryPart, MissingPartError } from '../../src/remark/index.ts';
import { asProblem } from '../../src/server/as-problem.ts';

const drawer = { makes: 'A picture', packageName: '@some/drawer', instead: 'write it as SVG' };

const missing = () =>
  binaryPart(drawer, async () => {
    throw new Error("Cannot find module '@some/drawer-arm'\nRequire stack:\n- /home/anna/drawer.js");
  });

describe('a part that comes as a binary', () => {
  it('is what its loader gives', async () => {
    expect(await binaryPart(drawer, async () => 7)).toBe(7);
  });

  it('says what needs it, why it is not there, and what to do instead', async () => {
    await expect(missing()).rejects.toThrow(
      "A picture needs the package @some/drawer, which cannot be loaded on this machine (Cannot find module '@some/drawer-arm'). " +
        'Install Emberline again with its optional packages (npm install --include=optional); where none fits the machine, write it as SVG.',
    );
    await expect(missing()).rejects.toBeInstanceOf(MissingPartError);
  });

  it('answers a request of the page with 501 and the mend', async () => {
    const problem = await missing().catch((error: unknown) => asProblem(error, '/course'));
    expect(problem).toMatchObject({ kind: 'missing-part', mend: expect.stringContaining('write it as SVG') });
  });
});
