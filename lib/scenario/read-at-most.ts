import { closeSync, openSync, readSync } from 'node:fs';

/**
 * Reads no further than a limit, as devices and pipes have no size to look at first.
 *
 * @param file path.
 * @param limit most bytes read, 1 or more.
 * @throws the error of the file system.
 */
export function readAtMost(file: string, limit: number): Uint8Array {
  const descriptor = openSync(file, 'r');
  try {
    const bytes = new Uint8Array(limit);
    let used = 0;
    while (used < limit) {
      const read = readSync(descriptor, bytes, used, limit - used, null);
      if (read === 0) break;
      used += read;
    }
    return bytes.subarray(0, used);
  } finally {
    closeSync(descriptor);
  }
}
