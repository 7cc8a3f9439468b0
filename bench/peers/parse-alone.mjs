/** Reads two columns of plain decimals on one core and adds them up: what any reader in JavaScript has to spend. */
import { closeSync, openSync, readSync } from 'node:fs';

const file = openSync(process.argv[2], 'r');
const bytes = new Uint8Array(1 << 20);
let sum = 0;
let mantissa = 0;
let scale = 1;
let behind = false;
for (let length = readSync(file, bytes); length > 0; length = readSync(file, bytes)) {
  for (let i = 0; i < length; i++) {
    const c = bytes[i];
    if (c >= 48 && c <= 57) {
      mantissa = mantissa * 10 + c - 48;
      if (behind) scale *= 10;
    } else if (c === 46) behind = true;
    else {
      sum += mantissa / scale;
      mantissa = 0;
      scale = 1;
      behind = false;
    }
  }
}
closeSync(file);
console.log(sum);
