import { parseArgs } from 'node:util';

export interface StartOptions {
  /** Which host was asked for; null takes Electron where it runs, else the loopback host. */
  host: 'electron' | 'loopback' | null;
  openBrowser: boolean;
  port: number;
  /** A property file or a folder of inputs; null is the sample. */
  path: string | null;
}

export const USAGE = `usage: npm start -- [options] [property.gpkg or folder of inputs]

  --electron   open the window in Electron, or fail
  --loopback   open the window in a browser on this machine
  --no-open    loopback host: print the address and open no browser
  --port N     loopback host: listen on this port of 127.0.0.1 (default: a free one)

Without a path it opens the invented sample property.`;

/** Reads the command line of `npm start`. @throws Error with one plain sentence for a wrong one. */
export function parseOptions(argv: readonly string[]): StartOptions | 'help' {
  const { values, positionals } = parseArgs({
    args: [...argv],
    allowPositionals: true,
    options: {
      electron: { type: 'boolean' },
      loopback: { type: 'boolean' },
      'no-open': { type: 'boolean' },
      port: { type: 'string' },
      help: { type: 'boolean', short: 'h' },
    },
  });
  if (values.help) return 'help';
  const loopback = values.loopback || values['no-open'] || values.port !== undefined;
  if (values.electron && loopback) {
    throw new Error('--electron does not go with --loopback, --no-open or --port.');
  }
  const port = values.port === undefined ? 0 : Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65_535 || values.port === '') {
    throw new Error(`--port takes a number from 0 to 65535, not "${values.port}".`);
  }
  if (positionals.length > 1) throw new Error('One property at a time: give a single path.');
  return {
    host: values.electron ? 'electron' : loopback ? 'loopback' : null,
    openBrowser: !values['no-open'],
    port,
    path: positionals[0] ?? null,
  };
}
