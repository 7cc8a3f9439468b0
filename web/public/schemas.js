// The policy of the page forbids programs that are made from text. The library that checks what the server answers would
// try to make one, and the browser would report it: with this it does not try.
globalThis.__zod_globalConfig = { jitless: true };
