import { recordSpan } from '../../../air/record.ts';
import type { Interval } from '../../../air/season.ts';
import type { WindRecord } from '../../../air/types.ts';
import { SECTORS } from '../../../air/types.ts';
import { windRose } from '../../../air/wind.ts';
import { decimal } from '../../../features/units.ts';
import type { ReportPage } from '../../report.ts';
import { count, type Facts, position, type Say } from '../facts.ts';
import { left, right, shown, table } from '../table.ts';
import { deerDoubts, deerTables } from './deer-wind.ts';

const MOST = 8;

export function airPage(facts: Facts): ReportPage {
  const { artifacts, settings, say } = facts;
  const { wind } = artifacts;
  const pools = [...artifacts.pools].sort((a, b) => b.volume - a.volume);
  return {
    topic: 'air',
    title: 'Air',
    map: { grids: ['shade', 'cold-air'], lines: ['features', 'drainage', 'pools', 'carries'] },
    paragraphs: [
      `On a clear calm night cold air slides down the slopes, gathers in the draws and runs out with the drainage. This picture is for ${count(settings.air.hours, 'hour')} of cooling at ${decimal(settings.air.cooling, 0)} W/m².`,
      poolLine(facts),
      ...daytimeLine(facts),
      ...(wind ? windLines(wind, say) : []),
    ],
    tables: [
      ...table(
        shown('Pools of still cold air, the largest first', pools.length, MOST),
        [left('Pool'), left('Where'), right('Depth'), right('Area'), left('Spills at')],
        pools
          .slice(0, MOST)
          .map((p) => [p.id, position(p.at), say.height(p.depth), say.area(p.area), position(p.sill)]),
      ),
      ...seasonTable(facts),
      ...(wind ? roseTable(wind, facts) : []),
      ...deerTables(facts),
    ],
    doubts: [
      ...artifacts.airDoubts,
      ...(artifacts.windSeason?.cruising.notes ?? []),
      ...deerDoubts(facts),
      ...(wind
        ? ['The wind is the station’s, over open ground: this ground bends, slows and shelters it.']
        : [
            'There is no wind record: add five years of hourly records from the nearest station for a wind table.',
          ]),
    ],
    cautions: [],
  };
}

function poolLine({ artifacts, owned, frame, ownedArea, say }: Facts): string {
  const { cells } = artifacts.poolDepth;
  let inPools = 0;
  for (let i = 0; i < cells.length; i++) if (owned[i] === 1 && cells[i]! > 0) inPools++;
  const where = ownedArea === null ? 'the map' : 'your ground';
  if (inPools === 0) return `No still pool of cold air lies on ${where}.`;
  return `Still pools cover ${say.area(inPools * frame.cellSize ** 2)} of ${where} at the end of the night.`;
}

/** What blows by day in the weeks that matter, since the still night is not all. */
function daytimeLine({ artifacts, say }: Facts): string[] {
  const parts = artifacts.windSeason?.cruising.parts;
  if (!parts) return [];
  const words = parts.flatMap(({ part, total, calmShare, sectors }) => {
    if (total === 0 || part === 'night') return [];
    const most = sectors.reduce((best, { hours }, k) => (hours > sectors[best]!.hours ? k : best), 0);
    const { share } = sectors[most]!.share;
    const calm = calmShare.share ?? 0;
    return [
      `${part}, ${share ? `most often from ${SECTORS[most]} (${say.share(share)})` : 'no wind leads'}, calm in ${say.share(calm)}`,
    ];
  });
  if (words.length === 0) return [];
  return [
    `Wind mixes that picture away by day, and on windy nights. In the cruising weeks it blows so: ${words.join('; ')}. In calm hours the slopes the sun reaches send air uphill, until the drainage sets in again before sunset.`,
  ];
}

function windLines(wind: WindRecord, say: Say): string[] {
  const span = recordSpan(wind);
  if (!span) return ['The wind record holds no usable hour.'];
  const day = (hour: number): string => new Date(hour * 3_600_000).toISOString().slice(0, 10);
  const [gap] = span.gaps;
  const told = (share: number, what: string): string =>
    share > 0 ? `${what} is told in ${say.share(share)} of them` : `${what} is told in none`;
  return [
    `Wind: ${count(span.hours, 'hourly record')} from ${day(span.from)} to ${day(span.to)} (${wind.station}), ${say.share(span.covered)} of all hours; ${told(span.withCloud, 'cloud')}, ${told(span.withGust, 'a gust')}. ${gap ? `The longest gap is ${count(Math.round(gap.hours / 24), 'day')} from ${day(gap.from)}.` : 'No gap is a day long.'}`,
    ...(wind.notes.length > 0 ? [`What was kept of it: ${wind.notes.join('; ')}.`] : []),
  ];
}

const COMMONEST = 3;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** The weeks that matter most, by part of day: how often it is calm, and which winds lead. */
function seasonTable({ artifacts, say }: Facts) {
  if (!artifacts.windSeason) return [];
  const { season, parts } = artifacts.windSeason.cruising;
  const day = ({ month, day }: { month: number; day: number }): string => `${MONTHS[month - 1]} ${day}`;
  return table(
    `Wind ${season ? `from ${day(season.from)} to ${day(season.to)}, ` : ''}by part of day (95% intervals in brackets)`,
    [
      left('Part of day'),
      right('Hours'),
      right('Calm'),
      left('Commonest winds'),
      right('Mean speed of the first'),
      right('Speed varies by'),
      right('Gusts over speed'),
    ],
    parts
      .filter(({ total }) => total > 0)
      .map(({ part, total, calmShare, sectors, unsteadiness, gustiness }) => {
        const leading = sectors
          .map((sector, k) => ({ ...sector, name: SECTORS[k]! }))
          .sort((a, b) => b.hours - a.hours)
          .slice(0, COMMONEST)
          .filter(({ hours }) => hours > 0);
        const speed = leading[0]?.speed ?? null;
        return [
          part,
          decimal(total, 0),
          withInterval(calmShare, say),
          leading.map(({ name, share }) => `${name} ${withInterval(share, say)}`).join(', ') || '–',
          speed === null ? '–' : say.speed(speed),
          unsteadiness === null ? '–' : say.share(unsteadiness),
          gustiness === null ? 'not told' : decimal(gustiness, 1),
        ];
      }),
  );
}

const withInterval = ({ share, low, high }: Interval, say: Say): string =>
  share === null ? '–' : `${say.share(share)} (${say.share(low)} to ${say.share(high)})`;

function roseTable(wind: WindRecord, { say }: Facts) {
  const rose = windRose(wind);
  const row = (name: string, hours: number, speed: string): string[] => [
    name,
    decimal(hours, 0),
    say.share(hours / rose.total),
    speed,
  ];
  return table(
    'Where the wind blows from (true north), all hours; calms are kept apart',
    [left('From'), right('Hours'), right('Share'), right('Mean speed')],
    rose.total === 0
      ? []
      : [
          ...SECTORS.map((name, k) =>
            row(name, rose.counts[k]!, Number.isNaN(rose.speeds[k]!) ? '–' : say.speed(rose.speeds[k]!)),
          ),
          row('variable', rose.variable, '–'),
          row('calm', rose.calms, '–'),
        ],
  );
}
