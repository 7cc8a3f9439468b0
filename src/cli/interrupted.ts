/** Resolves at Ctrl-C, or when the system asks the program to end. */
export function interrupted(): Promise<void> {
  return new Promise((resolve) => {
    const end = () => {
      process.off('SIGINT', end);
      process.off('SIGTERM', end);
      resolve();
    };
    process.on('SIGINT', end);
    process.on('SIGTERM', end);
  });
}
