/**
 * The headless entry: `npm run analyze -- <folder-or-property.gpkg> --out <folder>`.
 * Progress goes to stderr, one line per result file to stdout. Exit code 0, 1 (bad input), 2 (usage).
 */
import { parseArgs } from 'node:util';
import { Problem, type Question } from '../core/grid/problem.ts';
import { analyzeProperty } from './service/analyze.ts';

const USAGE = `usage: npm run analyze -- <folder, elevation.tif or property.gpkg> [--out <folder>]

  <folder>     holds elevation*.tif and, where you have them, imagery*.tif, landcover*.tif,
               boundary.*, features.*, wind*, property.json
  --out        where the results go; default: out/<name> in the current folder
  --season     judges every stand over the season as well: verdict, ways in, season sheet
  --workers N  worker threads, default one a core
  --quiet      no progress`;

function fail(code: number, text: string): never {
  process.stderr.write(`${text}\n`);
  process.exit(code);
}

function readArguments() {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: {
        out: { type: 'string' },
        workers: { type: 'string' },
        season: { type: 'boolean', default: false },
        quiet: { type: 'boolean', default: false },
        help: { type: 'boolean', default: false },
      },
    });
    if (values.help) fail(0, USAGE);
    if (positionals.length !== 1) fail(2, USAGE);
    const workers = values.workers === undefined ? undefined : Number(values.workers);
    if (workers !== undefined && !(Number.isInteger(workers) && workers > 0)) {
      fail(2, `--workers takes a whole number from 1.\n\n${USAGE}`);
    }
    const { out, season, quiet } = values;
    return { input: positionals[0]!, out, workers, season, quiet };
  } catch (error) {
    return fail(2, `${(error as Error).message}\n\n${USAGE}`);
  }
}

/** How a question is answered without a window. */
function settledBy(question: Question | null): string {
  if (!question) return '';
  const { key, choices, columns } = question;
  const whole = choices.map(({ value }) => JSON.stringify(value)).join(', ');
  if (!columns) return `\nSettle it in property.json: "answers": { ${JSON.stringify(key)}: one of ${whole} }`;
  const quoted = (value: string) => (/[;"]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value);
  const pairs = columns.roles
    .filter(({ needed, guess }) => needed || guess !== null)
    .map(({ role, guess }) => `${role}=${guess === null ? '…' : quoted(guess)}`);
  const more = columns.roles.filter(({ needed, guess }) => !needed && guess === null);
  return [
    `\nSettle it in property.json: "answers": { ${JSON.stringify(key)}: ${JSON.stringify(pairs.join('; '))} }`,
    ...(more.length > 0 ? [`It may say too: ${more.map(({ role }) => role).join(', ')}.`] : []),
    `Or ${whole}.`,
  ].join('\n');
}

const { input, out, workers, season, quiet } = readArguments();
try {
  const { files, notes } = await analyzeProperty(input, out ?? null, {
    ...(workers ? { workers } : {}),
    season,
    progress: (line) => {
      if (!quiet) process.stderr.write(`${line}\n`);
    },
  });
  for (const note of notes) if (!quiet) process.stderr.write(`note: ${note}\n`);
  for (const file of files) process.stdout.write(`${file}\n`);
} catch (error) {
  if (error instanceof Problem) {
    const named = error.file && !error.message.includes(error.file) ? `${error.file}: ` : '';
    fail(1, `${named}${error.message}\n${error.fix}${settledBy(error.question)}`);
  }
  fail(1, `Something in the program itself went wrong: ${(error as Error).stack ?? error}`);
}
