import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { type BinaryPart, binaryPart } from '../remark/index.ts';
import type { Paper, Report } from './document.ts';
import { closenessSteps, typstSource } from './typst.ts';

/** A document could not be set. */
class TypesetError extends Error {
  override readonly name = 'TypesetError';
}

const typeset: BinaryPart = {
  makes: 'A document as PDF',
  packageName: '@myriaddreamin/typst-ts-node-compiler',
  instead: 'write it as HTML (--html) and print that from a browser',
};

const weights = ['400Regular', '400Regular_Italic', '600SemiBold', '700Bold', '700Bold_Italic'];

/**
 * Sets a document as PDF/UA-1 (ISO 14289-1), tagged and with its fonts in it. The same document gives the same bytes.
 *
 * @throws TypesetError; MissingPartError where no typesetter fits this machine
 */
export async function typesetPdf(report: Report, paper: Paper): Promise<Uint8Array> {
  const compiler = await typesetter();
  const last = closenessSteps(report) - 1;
  try {
    for (let step = 0; ; step++) {
      const { main, files } = typstSource(report, paper, step);
      compiler.resetShadow();
      for (const [name, bytes] of files) compiler.mapShadow(`${workspace}${name}`, Buffer.from(bytes));
      const asked = { mainFileContent: main, resetRead: true };
      // What is meant for one page is set closer until it fits; beyond that it goes on over the page.
      if (step < last && (compiler.compile(asked).result?.numOfPages ?? 0) > 1) continue;
      return compiler.pdf(asked, { pdfStandard: 'ua-1' });
    }
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    throw new TypesetError(`The document "${report.title}" could not be set: ${reasonOf(error.message)}`);
  } finally {
    compiler.resetShadow();
    compiler.evictCache(2);
  }
}

/** A folder that holds nothing: a document reads only what is handed over with it. */
const workspace = '/nothing-is-read-from-here';

let opened: Promise<Awaited<ReturnType<typeof openTypesetter>>> | null = null;

/** The native module and its fonts are loaded once, with the first document. */
function typesetter() {
  opened ??= openTypesetter();
  return opened;
}

async function openTypesetter() {
  const { NodeCompiler } = await binaryPart(typeset, () => import('@myriaddreamin/typst-ts-node-compiler'));
  const fontBlobs = await Promise.all(weights.map((weight) => readFile(fontFile(weight))));
  return NodeCompiler.create({ workspace, fontArgs: [{ fontBlobs }] });
}

function fontFile(weight: string): string {
  const family = '@expo-google-fonts/atkinson-hyperlegible-next';
  return fileURLToPath(import.meta.resolve(`${family}/${weight}/AtkinsonHyperlegibleNext_${weight}.ttf`));
}

function reasonOf(diagnostics: string): string {
  const reason = /message: "((?:[^"\\]|\\.)*)"/.exec(diagnostics)?.[1] ?? diagnostics.slice(0, 300);
  return reason === '' ? 'no reason was given; take out the pictures of your own one by one.' : reason;
}
