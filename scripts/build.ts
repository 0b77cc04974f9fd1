/**
 * Bundles the program into dist/: the Electron main, the sandboxed preload, the service process, the workers and
 * the window. Native and large data packages stay outside and are loaded from node_modules.
 */
import { cp, mkdir, rm } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('..', import.meta.url));
const dist = `${root}dist`;

await rm(dist, { recursive: true, force: true });
await mkdir(`${dist}/renderer`, { recursive: true });

const shared = { bundle: true, sourcemap: true, logLevel: 'warning', absWorkingDir: root } as const;

await Promise.all([
  build({
    ...shared,
    platform: 'node',
    format: 'esm',
    target: 'node22',
    packages: 'external',
    entryPoints: {
      main: 'electron/main.ts',
      'service-process': 'electron/host/service-process.ts',
      'step-worker': 'electron/workers/step-worker.ts',
      'job-process': 'electron/workers/job-process.ts',
      'job-worker': 'electron/workers/job-worker.ts',
      'paint-worker': 'electron/workers/paint-worker.ts',
      'store-worker': 'electron/store/store-worker.ts',
    },
    outdir: dist,
  }),
  build({
    ...shared,
    platform: 'node',
    format: 'cjs',
    target: 'node22',
    external: ['electron'],
    entryPoints: { preload: 'electron/preload.ts' },
    outdir: dist,
    outExtension: { '.js': '.cjs' },
  }),
  build({
    ...shared,
    platform: 'browser',
    format: 'esm',
    target: 'es2022',
    jsx: 'automatic',
    jsxImportSource: 'preact',
    minify: true,
    loader: { '.woff2': 'file', '.woff': 'file', '.svg': 'file' },
    entryPoints: { main: 'renderer/main.tsx' },
    outdir: `${dist}/renderer`,
  }),
  cp(`${root}renderer/index.html`, `${dist}/renderer/index.html`),
]);
