import { join } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

/** A description of a key of the experiment file, in a call of its own. */
const described = /\.describe\(\s*'[^'\\\n]*',?\s*\)/g;
/** The same, as the words that a kind of value begins with. */
const begunWith =
  /(?<=\b(?:words|whole|ratio|uncertainRatio|codeReference)\(\s*|\b(?:quantity|uncertain)\(\s*'[\w-]+',\s*)'[^'\\\n]*'/g;

/** Takes those descriptions out of the pages: editors and the pages of reference show them, and nobody reads them here. */
const withoutDescriptions: Plugin = {
  name: 'without-descriptions',
  enforce: 'pre',
  transform: {
    filter: { id: /[\\/]src[\\/]experiment[\\/]schema[\w-]*\.ts$/ },
    handler: (code) => code.replaceAll(described, '').replaceAll(begunWith, "''"),
  },
};

/**
 * Both pages, that of those who run the course and that of a group at its bench: built into dist/web, served by the
 * server under names that change with their content.
 */
export default defineConfig({
  root: import.meta.dirname,
  plugins: [withoutDescriptions, react()],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    // Fonts and pictures stay files: the page's security policy allows no data addresses for fonts.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    // For who is signed in as what, the server chooses.
    rolldownOptions: {
      input: ['index.html', 'room.html'].map((name) => join(import.meta.dirname, name)),
      // A native module for pictures without a browser; nothing on the page asks for it.
      external: [/^@resvg\//],
    },
  },
  server: { proxy: { '/api': 'http://127.0.0.1:4173' } },
});
