import { createRequire } from 'node:module';
import { UsageError } from '../problems.js';

/** One output in several forms, by media type; a viewer takes the richest that it knows. */
export interface NotebookOutput {
  /** JSON for types that are JSON, base64 for pictures, else text. */
  readonly data: Readonly<Record<string, unknown>>;
  /** What viewers are told about a form, by its media type. */
  readonly metadata?: Readonly<Record<string, unknown>>;
}

/**
 * The module of the TypeScript kernel that holds the way out of the running cell. Its public door writes outputs of one
 * form only; and the kernel is found where it is loaded, so that the library need not depend on it.
 */
const KERNEL_MODULE = /[\\/]tslab[\\/]dist[\\/]jupyter\.js$/;

interface KernelModule {
  /** Set when a cell begins, and belongs to that cell. */
  readonly lastWriteDisplayData?: unknown;
}

type WriteDisplayData = (content: Required<NotebookOutput> & { readonly transient: object }) => void;

/**
 * The way to put outputs below the notebook cell that runs now.
 *
 * @param caller name of the function that wants it.
 * @param instead what to do where there is no notebook, as a clause.
 * @throws UsageError outside a notebook.
 */
export function openDisplay(caller: string, instead: string): (output: NotebookOutput) => void {
  const loaded = createRequire(import.meta.url).cache;
  for (const [file, module] of Object.entries(loaded)) {
    if (!KERNEL_MODULE.test(file)) continue;
    const write = (module?.exports as KernelModule | undefined)?.lastWriteDisplayData;
    if (typeof write !== 'function') continue;
    return ({ data, metadata = {} }) => {
      (write as WriteDisplayData)({ data, metadata, transient: {} });
    };
  }
  throw new UsageError(
    `${caller} works in a notebook with the TypeScript kernel, and there is none here: ${instead}`,
  );
}
