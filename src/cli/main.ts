#!/usr/bin/env node
import { unfitNode } from './node-version.ts';

// Nothing else is imported before the age of Node is known: an older one fails at reading it, and says nothing of use.
const unfit = unfitNode(process.versions.node);
if (unfit === null) {
  void import('./start.ts').then(({ start }) => start());
} else {
  process.stderr.write(`${unfit}\n`);
  process.exitCode = 2;
}
