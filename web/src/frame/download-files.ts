/** Where documents and data are made, by their formats. */

export type Paper = 'a4' | 'letter';

/** A format, its address, and whether it is set on paper. */
export interface DownloadFile {
  readonly word: string;
  readonly address: string;
  readonly paged: boolean;
}

type Parameters = Readonly<Record<string, string>>;

function addressOf(path: string, parameters: Parameters): string {
  return `/api/${path}?${new URLSearchParams(parameters)}`;
}

/** A document as PDF and as HTML. */
export function documentFiles(kind: string, parameters: Parameters = {}): DownloadFile[] {
  const path = `documents/${kind}`;
  return [
    { word: 'PDF', address: addressOf(path, { ...parameters, format: 'pdf' }), paged: true },
    { word: 'HTML', address: addressOf(path, { ...parameters, format: 'html' }), paged: false },
  ];
}

/** Slides as one HTML file. */
export const slideFiles: readonly DownloadFile[] = [
  { word: 'HTML', address: addressOf('documents/briefing', { format: 'slides' }), paged: false },
];

const words: Readonly<Record<string, string>> = {
  csv: 'CSV',
  json: 'JSON',
  parquet: 'Parquet',
  xlsx: 'XLSX',
  package: 'all, as a data package',
};

/** Data in some formats. */
export function dataFiles(
  kind: string,
  formats: readonly string[],
  parameters: Parameters = {},
): DownloadFile[] {
  return formats.map((format) => ({
    word: words[format] ?? format,
    address: addressOf(`exports/${kind}`, { ...parameters, format }),
    paged: false,
  }));
}

/** Results in every format. */
export const resultsFiles: readonly DownloadFile[] = dataFiles('results', [
  'xlsx',
  'csv',
  'json',
  'parquet',
  'package',
]);

/** The address with a paper; without, it is the one that the experiment file says. */
export function withPaper({ address, paged }: DownloadFile, paper: Paper | null): string {
  return paged && paper !== null ? `${address}&paper=${paper}` : address;
}
