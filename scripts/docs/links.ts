import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { withoutBlocks } from './blocks.ts';
import { anchorOf } from './markdown.ts';

/** A page with its text. */
export interface Page {
  readonly path: string;
  readonly text: string;
}

/** Every page that people read, by its path from the root of the source. */
export function allPages(): Page[] {
  const paths = [...top, ...pagesIn('docs'), ...pagesIn('examples')];
  return paths.map((path) => ({ path, text: readFileSync(path, 'utf8') }));
}

const top = ['README.md', 'CHANGELOG.md', 'CONTRIBUTING.md', 'SECURITY.md'];

function pagesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.md'))
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .sort();
}

/** The text without what stands in fenced blocks and in the type of programs: links there are examples. */
function proseOf(text: string): string {
  return withoutBlocks(text).replaceAll(/`[^`\n]*`(?!\])/g, '');
}

function anchorsOf(text: string): ReadonlySet<string> {
  const headings = withoutBlocks(text).matchAll(/^#{1,6} (.+)$/gm);
  const counts = new Map<string, number>();
  const anchors = new Set<string>();
  for (const [, heading = ''] of headings) {
    const anchor = anchorOf(heading);
    const before = counts.get(anchor) ?? 0;
    counts.set(anchor, before + 1);
    anchors.add(before === 0 ? anchor : `${anchor}-${before}`);
  }
  return anchors;
}

/** Links within the source that lead nowhere, each as a sentence. Addresses on the web are not asked. */
export function brokenLinks(pages: readonly Page[]): string[] {
  return pages.flatMap((page) => {
    const links = [...proseOf(page.text).matchAll(/\]\(([^)\s]+)\)/g)].map(([, target = '']) => target);
    return links
      .filter((target) => !/^[a-z]+:/.test(target))
      .flatMap((target) => {
        const fault = faultOf(page, target);
        return fault === null ? [] : [`${page.path} links to ${target}: ${fault}.`];
      });
  });
}

function faultOf(page: Page, target: string): string | null {
  const [path = '', anchor] = target.split('#');
  const file = path === '' ? page.path : normalize(join(dirname(page.path), decodeURIComponent(path)));
  if (file.startsWith('..')) return 'it leads out of the source';
  if (!existsSync(file)) return 'there is no such file';
  if (anchor === undefined) return null;
  if (statSync(file).isDirectory() || !file.endsWith('.md')) return 'only pages have places';
  return anchorsOf(readFileSync(file, 'utf8')).has(anchor) ? null : 'the page has no such heading';
}
