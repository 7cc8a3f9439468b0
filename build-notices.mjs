/** The licences of what is bundled into dist/, as they have to be passed on with it. Part of `npm run build`. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const rule = '-'.repeat(80);

/** Terms of licences that some packages name and do not bring along, by their names in the SPDX list. */
const terms = {
  MIT: `Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated
documentation files (the "Software"), to deal in the Software without restriction, including without limitation the
rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit
persons to whom the Software is furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the
Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE
WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR
COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR
OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.`,
  Unlicense: 'This is free and unencumbered software released into the public domain.',
};

/**
 * @param outputs what the bundlers made, of their own type
 * @returns the text of dist/third-party-notices.txt: every package of which at least one module went in, with its version
 *   and its licence; a text that several share stands once
 * @throws Error where a package names a licence and its terms are nowhere: a person has to look at it then
 */
export function noticesOf(outputs) {
  const titles = new Map();
  for (const folder of new Set(outputs.flatMap(modulesIn).map(packageFolder))) {
    if (folder === null) continue;
    const { title, text } = noticeOf(folder);
    titles.set(text, new Set([...(titles.get(text) ?? []), title]));
  }
  const notices = [...titles].map(([text, of]) => `${rule}\n${[...of].sort().join('\n')}\n\n${text}`);
  return `Emberline contains the packages that are named here, under these licences.\n\n${notices.sort().join('\n\n')}\n`;
}

function modulesIn({ output }) {
  return output.flatMap((one) => (one.type === 'chunk' ? one.moduleIds : one.originalFileNames));
}

/** The folder of the package that a module belongs to; null for modules of this one and of the bundler. */
function packageFolder(id) {
  const found = /^.*[\\/]node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/]+/.exec(id.replace(/^\0/, ''));
  return found === null || !existsSync(join(found[0], 'package.json')) ? null : found[0];
}

function noticeOf(folder) {
  const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const texts = readdirSync(folder)
    .filter((file) => /^(licen[cs]e|notice|copying)/i.test(file))
    .sort()
    .map((file) => readFileSync(join(folder, file), 'utf8').replaceAll('\r\n', '\n').trim());
  if (texts.length === 0) {
    if (terms[license] === undefined) {
      throw new Error(
        `${name} ${version} (${license}) comes without the text of its licence: look for it, add it here`,
      );
    }
    texts.push(
      `The package names this licence; its holders are those whom its page in the registry names.\n\n${terms[license]}`,
    );
  }
  return { title: `${name} ${version}: ${license}`, text: texts.join('\n\n') };
}
