/**
 * Runs every check against something outside the project again and writes down what it found: a page to read in
 * docs/, and the table that the report prints in its annex. A check is found by the helper it uses (tests/outside.ts).
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { glob } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { ReferenceCheck } from '../core/analysis/report-model/reference-checks.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const ROOMS = [
  'grid',
  'features',
  'terrain',
  'cover',
  'travel',
  'air',
  'stands',
  'plan',
  'readers',
  'store',
  'writers',
];

const files: string[] = [];
// The helper's own test lies beside it and checks nothing outside.
for await (const file of glob('tests/*/**/*.test.ts', { cwd: root }))
  if (/from '[./]+\/outside\.ts'/.test(readFileSync(join(root, file), 'utf8'))) files.push(file);

const folder = mkdtempSync(join(tmpdir(), 'hollowgate-reference-'));
const record = join(folder, 'checks');
const { status } = spawnSync(process.execPath, ['node_modules/vitest/vitest.mjs', 'run', ...files.sort()], {
  cwd: root,
  stdio: 'inherit',
  env: { ...process.env, HOLLOWGATE_REFERENCE: record },
});
if (status !== 0) process.exit(status ?? 1);
const found = readFileSync(record, 'utf8')
  .trimEnd()
  .split('\n')
  .map((line): ReferenceCheck => JSON.parse(line));
rmSync(folder, { recursive: true });

// Cases told apart by the tests are one check to the reader. Two digits, so that the last bits change no page.
const checks = new Map<string, ReferenceCheck>();
for (const check of found) {
  const key = [check.room, check.method, check.source].join('\n');
  const so = checks.get(key);
  checks.set(key, {
    ...check,
    cases: check.cases + (so?.cases ?? 0),
    largest: Number(Math.max(check.largest, so?.largest ?? 0).toPrecision(2)),
  });
}
const rank = ({ room }: ReferenceCheck): number => ROOMS.indexOf(room);
const rows = [...checks.values()].sort(
  (a, b) => rank(a) - rank(b) || a.method.localeCompare(b.method) || a.source.localeCompare(b.source),
);

writeFileSync(
  join(root, 'core/analysis/report-model/reference-checks.json'),
  `${JSON.stringify(rows, null, 2)}\n`,
);
const head = ['Room', 'Method', 'Checked against', 'Cases', 'Largest difference', 'Allowed', 'Measured in'];
const line = (cells: readonly (string | number)[]): string =>
  `| ${cells.map((cell) => String(cell).replaceAll('|', '\\|')).join(' | ')} |`;
writeFileSync(
  join(root, 'docs/reference.md'),
  [
    '# What the program was checked against',
    '',
    `Written by \`npm run reference\`, which runs these ${rows.length} checks again. The largest difference is that of all cases; the tests fail when it is more than is allowed. What other programs answered is kept in tests/reference, with their versions and the scripts that asked them.`,
    '',
    line(head),
    line(head.map((title) => (/Cases|difference|Allowed/.test(title) ? '---:' : '---'))),
    ...rows.map(({ room, method, source, cases, largest, allowed, unit }) =>
      line([room, method, source, cases, largest, allowed, unit]),
    ),
    '',
  ].join('\n'),
);
console.log(
  `${rows.length} checks, ${rows.reduce((sum, { cases }) => sum + cases, 0)} cases: docs/reference.md`,
);
