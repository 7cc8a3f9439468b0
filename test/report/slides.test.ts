import { createHash } from 'node:crypto';
import { parseHTML } from 'linkedom';
import { describe, expect, test } from 'vitest';
import { type Block, type Report, slidesHtml } from '../../src/report/index.ts';

const blocks: Block[] = [
  { kind: 'heading', level: 1, text: 'One' },
  { kind: 'heading', level: 2, text: 'One, first' },
  { kind: 'paragraph', text: 'shown' },
  { kind: 'notes', text: 'said' },
  { kind: 'heading', level: 3, text: 'small' },
  { kind: 'heading', level: 1, text: '<script>alert(1)</script>' },
  { kind: 'paragraph', text: '</script><script>alert(2)</script>' },
];
const report: Report = {
  title: 'Title & more',
  subtitle: 'A course',
  foot: 'foot',
  density: 'usual',
  blocks,
};

describe('slides', async () => {
  const html = await slidesHtml(report);
  const { document } = parseHTML(html);

  test('begin at headings of the first two levels; a heading with nothing below it is no slide', () => {
    const titles = Array.from(document.querySelectorAll('section.slide'), (one) => {
      return one.querySelector('h1, h2')?.textContent;
    });
    expect(titles).toEqual(['Title & more', 'One, first', '<script>alert(1)</script>']);
    expect(document.querySelector('section:nth-of-type(2) .part')?.textContent).toBe('One');
    expect(document.querySelector('section:nth-of-type(2) .notes')?.textContent).toContain('said');
    expect(document.querySelectorAll('.overview a')).toHaveLength(3);
  });

  test('hold one script, the one whose hash their policy names, and ask for nothing else', () => {
    const scripts = Array.from(document.querySelectorAll('script'));
    expect(scripts).toHaveLength(1);
    // CSP 3, 6.7.2.3: the hash is that of the element's text.
    const hash = createHash('sha256')
      .update(scripts[0]?.textContent ?? '')
      .digest('base64');
    const policy = document.querySelector('meta[http-equiv]')?.getAttribute('content') ?? '';
    expect(policy).toContain(`script-src 'sha256-${hash}'`);
    expect(policy).toContain("default-src 'none'");
    expect(html).not.toMatch(/(?:src|href)="(?!data:|#)/);
    expect(document.querySelectorAll('[style]')).toHaveLength(0);
  });

  test('name every control', () => {
    for (const button of Array.from(document.querySelectorAll('button'))) {
      expect(button.textContent?.trim()).not.toBe('');
    }
  });
});
