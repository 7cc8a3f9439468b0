import { connect, type Socket } from 'node:net';

/** A connection of a test, byte by byte. */
export interface RawConnection {
  readonly socket: Socket;
  /** Everything that came, once the other side has ended. */
  readonly whole: Promise<string>;
  /** Everything that came, as soon as it holds this. */
  until(part: string): Promise<string>;
}

/** Opens a connection to a server on this machine and sends what is given, however little it is HTTP. */
export function raw(port: number, text: string | Uint8Array): RawConnection {
  const socket = connect(port, '127.0.0.1');
  let said = '';
  socket.setEncoding('latin1').on('data', (piece: string) => {
    said += piece;
    socket.emit('said');
  });
  socket.on('error', () => undefined);
  socket.write(text);
  const whole = new Promise<string>((resolve) => socket.once('close', () => resolve(said)));
  return {
    socket,
    whole,
    until: (part) =>
      new Promise((resolve, reject) => {
        const look = () => {
          if (!said.includes(part)) return;
          socket.off('said', look);
          resolve(said);
        };
        socket.on('said', look);
        socket.once('close', () => reject(new Error(`ended without ${part}: ${said.slice(0, 500)}`)));
        look();
      }),
  };
}

/** The status of each answer in what came. */
export function statuses(said: string): number[] {
  return [...said.matchAll(/HTTP\/1\.1 (\d{3}) /g)].map(([, status]) => Number(status));
}
