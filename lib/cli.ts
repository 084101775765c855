#!/usr/bin/env node
import { stopOnInterrupt } from './cli/interrupt.js';

// A reader that closes the pipe early (head, less) is no error.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    process.exit(error.code === 'EPIPE' ? 0 : 1);
  });
}
const signal = stopOnInterrupt();
// Loaded afterwards, as loading takes long enough to be interrupted.
const { main } = await import('./cli/main.js');
process.exitCode = await main(process.argv, signal);
