// A logger of its own process: it writes what it is told to, when it is told to, and says when that is done.
import { closeSync, ftruncateSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';

let file = -1;

const acts = {
  open({ path, flags }) {
    if (file >= 0) closeSync(file);
    file = openSync(path, flags);
  },
  write({ base64, at }) {
    const bytes = Buffer.from(base64, 'base64');
    for (let from = 0; from < bytes.length; ) {
      from += writeSync(file, bytes, from, bytes.length - from, at === null ? null : at + from);
    }
  },
  truncate({ size }) {
    ftruncateSync(file, size);
  },
  rename({ from, to }) {
    renameSync(from, to);
  },
  remove({ path }) {
    rmSync(path);
  },
};

process.on('message', (message) => {
  acts[message.act](message);
  process.send('done');
});
