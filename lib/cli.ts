#!/usr/bin/env node
import { main } from './cli/main.js';

// A reader that closes the pipe early (head, less) is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  process.exit(error.code === 'EPIPE' ? 0 : 1);
});
process.exitCode = await main(process.argv);
