/**
 * Turns the first Ctrl-C, or a request to end, into a signal; a second one meets no handler and ends the process at
 * once.
 */
export function stopOnInterrupt(): AbortSignal {
  const stop = new AbortController();
  const names = ['SIGINT', 'SIGTERM'] as const;
  const onInterrupt = (): void => {
    for (const name of names) process.off(name, onInterrupt);
    stop.abort();
  };
  for (const name of names) process.on(name, onInterrupt);
  return stop.signal;
}
