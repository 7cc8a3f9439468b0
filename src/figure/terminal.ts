/** The door for terminals: plots of characters, without the drawing library that the other figures load. */
export { type BrailleChart, brailleChart, brailleStrip } from './braille.ts';
