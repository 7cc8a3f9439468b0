import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';

/** The text family, upright and slanted, as data in the style. */
export async function fontFaces(): Promise<string> {
  const [normal, italic] = await Promise.all([fontData('normal'), fontData('italic')]);
  const face = (style: string, data: string) =>
    `@font-face{font-family:"Atkinson Hyperlegible Next";font-style:${style};font-weight:200 800;src:url(data:font/woff2;base64,${data}) format("woff2")}`;
  return face('normal', normal) + face('italic', italic);
}

async function fontData(style: 'normal' | 'italic'): Promise<string> {
  const file = import.meta.resolve(
    `@fontsource-variable/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-${style}.woff2`,
  );
  return (await readFile(fileURLToPath(file))).toString('base64');
}

const tenths = Array.from({ length: 10 }, (_, i) => `.w${i + 1}{max-width:${(i + 1) * 10}%}`).join('');

/** Paper and ink, on the white of the drawings; black on white when printed. */
export const documentStyle = `
:root{color-scheme:light dark;--paper:#fff;--ink:#211e1a;--muted:#5b554b;--line:#b9b09f;--heat:#bf481b}
@media(prefers-color-scheme:dark){:root{--paper:#1a1916;--ink:#efebe2;--muted:#b3ac9e;--line:#5b554b;--heat:#e8743f}
.drawing{background:#fff;padding:.5rem}}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 "Atkinson Hyperlegible Next",sans-serif;font-variant-numeric:tabular-nums}
main{max-width:60rem;margin:0 auto;padding:1.5rem 1rem 4rem}
h1{font-size:2rem;line-height:1.15;margin:0 0 .25rem}h2{font-size:1.4rem;margin:2.25rem 0 .5rem}h3{font-size:1.1rem;margin:1.5rem 0 .4rem}h4{font-size:1rem;margin:1.25rem 0 .3rem}
p,ul,ol,dl{max-width:70ch}.subtitle{color:var(--muted);margin:0}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.2rem 1.25rem}dt{color:var(--muted)}dd{margin:0;overflow-wrap:anywhere}
figure{margin:1.5rem 0}figcaption,caption{color:var(--muted);font-size:.9rem;text-align:left}
.drawing svg,img{display:block;width:100%;height:auto}${tenths}
.scroll{overflow-x:auto;margin:1rem 0}figure>.scroll,.formula>.scroll{margin:0}caption span{position:sticky;left:0;display:inline-block;max-width:min(70ch,calc(100vw - 2rem))}table{border-collapse:collapse}
th,td{padding:.25rem .75rem .25rem 0;text-align:left;border-bottom:1px solid var(--line);vertical-align:top}
thead th{border-bottom:2px solid var(--ink);vertical-align:bottom}th.number,td.number{text-align:right;white-space:nowrap}
.by-hand td{height:2.2rem}.unseen{visibility:hidden}
.formula{margin:1rem 0}.formula>.scroll{padding:.4em 0}.source{color:var(--muted);font-size:.85rem;margin:.25rem 0 0}
.remark{border-left:1px solid var(--ink);padding-left:.75rem}.remark.repeat{border-left:4px solid var(--heat)}
.care{border:1px solid var(--ink);padding:.75rem 1rem}
details{margin:.5rem 0}summary{cursor:pointer;min-height:1.5rem}
footer{margin-top:3rem;color:var(--muted);font-size:.85rem;overflow-wrap:anywhere}
:focus-visible{outline:2px solid var(--ink);outline-offset:2px}
@media(max-width:40rem){.drawing svg{min-width:44rem}td:not(.number){min-width:8rem}ul,ol{padding-left:1.25rem}dl{grid-template-columns:1fr}dd{margin-bottom:.5rem}${'.w1,.w2,.w3,.w4,.w5,.w6,.w7,.w8,.w9{max-width:100%}'}}
@media print{:root{color-scheme:light;--paper:#fff;--ink:#000;--muted:#333;--line:#888}details{display:none}.page-break{break-after:page}figure,table,.remark,.care{break-inside:avoid}}
`;
