import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'chrome'];
const ARGUMENTS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

function isProgram(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The browser of this machine: that of the variable CHROMIUM, else the first one on the path. */
function browserFile(): string {
  const { CHROMIUM, PATH = '' } = process.env;
  const places = PATH.split(delimiter).flatMap((folder) => NAMES.map((name) => join(folder, name)));
  const found = CHROMIUM === undefined ? places.find(isProgram) : CHROMIUM;
  if (found !== undefined && isProgram(found)) return found;
  throw new Error(
    'no Chromium found: install it (Debian: apt-get install chromium) or set CHROMIUM to the path of its program',
  );
}

/** Starts a browser without a window, with a profile of its own that is thrown away. */
export function startBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: browserFile(), args: ARGUMENTS });
}
