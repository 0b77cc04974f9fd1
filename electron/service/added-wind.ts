import type { WindRecord } from '../../core/air/types.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { InputFile } from '../readers/inputs.ts';
import { joinWind } from '../readers/wind-join.ts';
import { runJob } from '../workers/run-job.ts';

/** The key under `answers` that says what becomes of a wind record that is there already. */
const WIND_RECORD = 'windRecord';

/**
 * Wind of files added to a property that is open.
 *
 * @returns null when every file was left out
 * @throws Problem with a question where columns cannot be told, or where there is a record already
 */
export async function readAddedWind(
  files: InputFile[],
  before: WindRecord | null,
  answers: Record<string, string>,
): Promise<{ wind: WindRecord; used: { name: string; hash: string }[] } | null> {
  const { wind, used } = await runJob('wind', { files, answers });
  if (!wind) return null;
  if (!before || before.hours.length === 0) return { wind, used };
  const into = answers[WIND_RECORD];
  if (into === 'join') return { wind: joinWind(before, wind), used };
  if (into === 'replace') return { wind, used };
  throw new Problem(
    `There is a wind record already, of ${before.station}: ${before.hours.length} hours${yearsOf(before)}. The new one is of ${wind.station}: ${wind.hours.length} hours${yearsOf(wind)}.`,
    {
      fix: 'Say whether the new record joins it or takes its place; either can be taken back.',
      question: {
        key: WIND_RECORD,
        choices: [
          { value: 'join', label: 'Join them' },
          { value: 'replace', label: 'Put the new one in its place' },
        ],
      },
    },
  );
}

function yearsOf({ hours }: WindRecord): string {
  const year = (hour: number) => new Date(hour * 3_600_000).getUTCFullYear();
  const [first, last] = [year(hours[0]!), year(hours.at(-1)!)];
  return first === last ? ` of ${first}` : ` of ${first} to ${last}`;
}
