import type { Ranked, WorkPlan } from '../../core/plan/types.ts';

/** A field by RFC 4180; one that a spreadsheet would take for a formula is kept text by a leading apostrophe. */
function field(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const safe = /^[=+\-@\t]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

const COLUMNS = [
  'id',
  'name',
  'kind',
  'when',
  'from',
  'to',
  'crew',
  'people',
  'hours',
  'labour_usd',
  'material_usd',
  'total_usd',
  'quantities',
  'to_buy',
  'not_known',
  'owner',
  'due',
  'done',
  'gain',
  'gain_low',
  'gain_high',
  'gain_unit',
  'gain_per_1000_usd',
  'gain_per_hour',
  'worth_nothing_without',
  'why_here',
];

/** What a job gains and why it stands where it does; numbers to three decimals. */
function worthOf(row: Ranked | undefined, { gained, jobs }: WorkPlan): (string | number | null)[] {
  if (!row) return Array.from({ length: 8 }, () => null);
  const { gain, perThousandDollars, perHour, needs, why } = row;
  const rounded = (value: number | null): number | null =>
    value === null ? null : Math.round(value * 1000) / 1000;
  const names = new Map(jobs.map(({ id, name }) => [id, name]));
  return [
    ...[gain?.value ?? null, gain?.low ?? null, gain?.high ?? null].map(rounded),
    gain ? (gained?.unit ?? null) : null,
    rounded(perThousandDollars),
    rounded(perHour),
    needs.map((id) => names.get(id) ?? id).join('; '),
    why,
  ];
}

/** The work list as CSV (RFC 4180): UTF-8, lines end in CRLF, one job a row. */
export function workCsvOf(work: WorkPlan): string {
  const ranked = new Map(work.ranked.map((row) => [row.job, row]));
  const dates = new Map(work.calendar.jobs.map((row) => [row.job, row]));
  const rows = work.jobs.map((job) => [
    job.id,
    job.name,
    job.kind,
    ranked.get(job.id)?.when ?? null,
    dates.get(job.id)?.from ?? null,
    dates.get(job.id)?.to ?? null,
    job.crew,
    job.people,
    job.hours,
    job.money.labour,
    job.money.material,
    job.money.total,
    job.quantities.map(({ label, text }) => `${label}: ${text}`).join('; '),
    job.quantities.flatMap(({ label, buy }) => (buy ? [`${label}: ${buy}`] : [])).join('; '),
    job.unknown.join(' '),
    job.owner,
    job.due,
    job.done,
    ...worthOf(ranked.get(job.id), work),
  ]);
  return [COLUMNS, ...rows].map((row) => `${row.map(field).join(',')}\r\n`).join('');
}
