/** The server says something every ten seconds at least; after so long without, the connection is gone, ms. */
const silence = 25_000;
const checkEvery = 3000;

/**
 * Listens to events of the server, and connects again by itself.
 *
 * @param events what is done with the data of each event, by its name
 * @param lost told, perhaps again and again, while nothing is heard; with when the last sign of life was, ms since 1970
 * @param heard told of every sign of life, before its event
 * @returns ends the listening
 */
export function steadyEvents(
  address: string,
  events: Readonly<Record<string, (data: string) => void>>,
  lost: (heardAt: number) => void,
  heard = () => {},
): () => void {
  let heardAt = Date.now();
  const hear = () => {
    heardAt = Date.now();
    heard();
  };
  const connect = () => {
    const opened = new EventSource(address);
    opened.onerror = () => lost(heardAt);
    opened.addEventListener('here', hear);
    for (const [name, take] of Object.entries(events)) {
      opened.addEventListener(name, ({ data }: MessageEvent<string>) => {
        hear();
        take(data);
      });
    }
    return opened;
  };
  let source = connect();
  const timer = setInterval(() => {
    if (source.readyState !== EventSource.CLOSED && Date.now() - heardAt < silence) return;
    lost(heardAt);
    source.close();
    source = connect();
    heardAt = Date.now();
  }, checkEvery);
  return () => {
    clearInterval(timer);
    source.close();
  };
}
