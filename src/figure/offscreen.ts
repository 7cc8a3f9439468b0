import { parseHTML } from 'linkedom';

/** A document to draw in where there is no browser. One serves any number of figures. */
export function offscreenDocument(): Document {
  return parseHTML('<!doctype html><html><body></body></html>').document;
}
