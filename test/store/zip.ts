import { crc32, deflateRawSync } from 'node:zlib';

/** A part of a ZIP archive; what is stated of its size may be a lie. */
export interface ZipPart {
  readonly name: string;
  readonly content: Uint8Array | string;
  readonly statedSize?: number;
  readonly flags?: number;
}

/** A ZIP archive (APPNOTE 6.3.3, 4.3), packed by deflate. */
export function zipOf(parts: readonly ZipPart[]): Buffer {
  const pieces: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  for (const { name, content, statedSize, flags = 0 } of parts) {
    const bytes = Buffer.from(content);
    const packed = deflateRawSync(bytes, { level: 9 });
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    common.writeUInt16LE(flags, 2);
    common.writeUInt16LE(8, 4);
    common.writeUInt32LE(crc32(bytes), 10);
    common.writeUInt32LE(packed.length, 14);
    common.writeUInt32LE(statedSize ?? bytes.length, 18);
    common.writeUInt16LE(name.length, 22);
    const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), common, Buffer.from(name), packed]);
    const tail = Buffer.alloc(14);
    tail.writeUInt32LE(at, 10);
    directory.push(Buffer.from('PK\x01\x02\x14\0', 'latin1'), common, tail, Buffer.from(name));
    pieces.push(local);
    at += local.length;
  }
  const central = Buffer.concat(directory);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(parts.length, 4);
  end.writeUInt16LE(parts.length, 6);
  end.writeUInt32LE(central.length, 8);
  end.writeUInt32LE(at, 12);
  return Buffer.concat([...pieces, central, Buffer.from('PK\x05\x06', 'latin1'), end]);
}
