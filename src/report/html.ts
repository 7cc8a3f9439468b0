import { createHash } from 'node:crypto';
import type { Report } from './document.ts';
import { escapeHtml } from './escape.ts';
import { blocksHtml } from './html-blocks.ts';
import { documentStyle, fontFaces } from './html-style.ts';

/**
 * A document as one HTML file that needs nothing else: fonts and drawings are in it, it holds no script, and its own
 * policy forbids every request, so that it opens by a double click where nothing can be installed.
 *
 * @throws Error where a formula cannot be set
 */
export async function documentHtml(report: Report): Promise<string> {
  const { title, subtitle, foot, blocks } = report;
  const body = `<main><header><h1>${escapeHtml(title)}</h1>${
    subtitle === null ? '' : `<p class="subtitle">${escapeHtml(subtitle)}</p>`
  }</header>
${blocksHtml(blocks)}
<footer>${escapeHtml(foot)}</footer></main>`;
  return wholePage({ title, style: (await fontFaces()) + documentStyle, body, script: null });
}

/** What a page of one file is made of. */
export interface PageParts {
  readonly title: string;
  readonly style: string;
  readonly body: string;
  readonly script: string | null;
}

/** A page whose policy allows the style and the script that are in it, and nothing else. */
export function wholePage({ title, style, body, script }: PageParts): string {
  const allowed = script === null ? '' : `; script-src '${hashOf(script)}'`;
  const policy = `default-src 'none'; style-src '${hashOf(style)}'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'${allowed}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title>
<style>${style}</style>
</head>
<body>
${body}
${script === null ? '' : `<script>${script}</script>\n`}</body>
</html>
`;
}

function hashOf(text: string): string {
  return `sha256-${createHash('sha256').update(text).digest('base64')}`;
}
