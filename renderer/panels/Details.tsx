import type { ComponentChildren } from 'preact';
import { formatLength, formatShare } from '../../core/features/units.ts';
import { rowsOf } from '../state/rows.ts';
import { summary, units } from '../state/session.ts';
import { type TableName, table } from '../state/tables.ts';
import { flyTo, type Selection } from '../state/view.ts';
import { NECK_CAUTION, STAND_CAUTIONS } from '../words/cautions.ts';
import { CHANNEL_SOURCE, channelSentence } from '../words/channels.ts';
import {
  benchSentence,
  crossingSentence,
  firmWords,
  LEVEL_WORDS,
  neckTitle,
  ownerWords,
  poolSentence,
  saddleSentence,
  spreadWords,
} from '../words/sentences.ts';
import { crossedName } from './crossed.ts';
import { FeatureForm } from './FeatureForm.tsx';
import { Lines } from './Finding.tsx';
import { byVolume } from './stages/Air.tsx';
import { LEVEL_SIGN } from './stages/Stands.tsx';
import { JunctionMeasures } from './travel/Junctions.tsx';
import { TakenApart } from './travel/Why.tsx';

const TABLE_OF = {
  neck: 'necks',
  crossing: 'crossings',
  stand: 'stand-risks',
  pool: 'pools',
  saddle: 'saddles',
  bench: 'benches',
  channel: 'channels',
  junction: 'junctions',
  feature: 'features',
} as const satisfies Record<Selection['type'], TableName>;

/** The page of reasons behind the thing chosen. */
export function Details({ selection, back }: { selection: Selection; back: ComponentChildren }) {
  const name = TABLE_OF[selection.type];
  const found = rowsOf(name, table(name).value).some((row) => row.id === selection.id);
  if (!found)
    return (
      <div class="detail">
        {back}
        <p class="empty" tabIndex={-1} data-detail-heading="">
          This is no longer among the results.
        </p>
      </div>
    );
  const { id } = selection;
  return (
    <div class="detail">
      {back}
      {selection.type === 'neck' && <NeckDetail id={id} />}
      {selection.type === 'crossing' && <CrossingDetail id={id} />}
      {selection.type === 'stand' && <StandDetail id={id} />}
      {selection.type === 'pool' && <PoolDetail id={id} />}
      {selection.type === 'saddle' && <SaddleDetail id={id} />}
      {selection.type === 'bench' && <BenchDetail id={id} />}
      {selection.type === 'junction' && <JunctionDetail id={id} />}
      {selection.type === 'channel' && <ChannelDetail id={id} />}
      {selection.type === 'feature' && <FeatureForm id={id} />}
    </div>
  );
}

function Heading({
  flag,
  flagClass,
  children,
}: {
  flag: ComponentChildren;
  flagClass: string;
  children: ComponentChildren;
}) {
  return (
    <h2 class="detail-head" tabIndex={-1} data-detail-heading="">
      <span class={`flag ${flagClass}`}>{flag}</span>
      <span>{children}</span>
    </h2>
  );
}

function Measures({ rows }: { rows: [string, string][] }) {
  return (
    <dl class="measures">
      {rows.map(([term, value]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function NeckDetail({ id }: { id: string }) {
  const necks = rowsOf('necks', table('necks').value);
  const index = necks.findIndex((row) => row.id === id);
  const neck = necks[index]!;
  const step = (by: number) => {
    const next = necks[index + by];
    if (next) flyTo({ type: 'neck', id: next.id }, [...(next.line ?? []), next.at]);
  };
  const most = Math.max(...neck.pairs.map((pair) => pair.share), 0.01);
  return (
    <>
      <Heading flag={neck.rank} flagClass={neck.firm ? 'tape firm' : 'tape open'}>
        {neckTitle(neck, units.value)}
      </Heading>
      <Measures
        rows={[
          ['Share of all travel', formatShare(neck.share)],
          ['Width', formatLength(neck.width, units.value)],
          ['Whose ground', ownerWords(neck.owner)],
          ...(neck.redundancy === undefined
            ? []
            : ([['Finds a way round if it closes', formatShare(neck.redundancy)]] as [string, string][])),
        ]}
      />
      <p class="para">{spreadWords(neck.spread)}</p>
      <p class={neck.firm ? 'para' : 'para unfirm'}>{firmWords(neck.firm)}</p>
      <Lines title="Why here" lines={neck.reasons} kind="plain" />
      <TakenApart at={neck.at} />
      {neck.pairs.length > 0 && (
        <section class="section">
          <h3>Between whom</h3>
          <ul class="pairs">
            {neck.pairs.map((pair) => (
              <li key={`${pair.from} ${pair.to}`}>
                <span>
                  {pair.from} and {pair.to}
                </span>
                <svg class="pair-bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
                  <rect x="0" y="0" height="6" width={(100 * pair.share) / most} />
                </svg>
                <span class="pair-share">{formatShare(pair.share)}</span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <Lines title="What this cannot know" lines={summary.value?.doubts.travel ?? []} kind="doubts" />
      <p class="caution-line">{NECK_CAUTION}</p>
      <div class="steps">
        <button type="button" class="quiet" disabled={index <= 0} onClick={() => step(-1)}>
          Rank above
        </button>
        <button type="button" class="quiet" disabled={index >= necks.length - 1} onClick={() => step(1)}>
          Rank below
        </button>
      </div>
    </>
  );
}

function CrossingDetail({ id }: { id: string }) {
  const crossing = rowsOf('crossings', table('crossings').value).find((row) => row.id === id)!;
  const crossed = crossedName(crossing);
  return (
    <>
      <Heading
        flag={
          crossing.kind === 'railroad'
            ? 'T'
            : crossing.kind === 'ownership line'
              ? 'L'
              : crossing.kind[0]!.toUpperCase()
        }
        flagClass="square"
      >
        {crossing.kind === 'ownership line' ? 'Across the property line' : `Across the ${crossing.kind}`}
      </Heading>
      <p class="para">{crossingSentence(crossing)}</p>
      <Measures
        rows={[
          ['Share of all travel', formatShare(crossing.share)],
          ...(crossed ? ([['What is crossed', crossed]] as [string, string][]) : []),
          ['Whose ground', ownerWords(crossing.owner)],
        ]}
      />
      <Lines title="Why here" lines={crossing.reasons} kind="plain" />
      <TakenApart at={crossing.at} />
      <Lines title="What this cannot know" lines={summary.value?.doubts.travel ?? []} kind="doubts" />
    </>
  );
}

function StandDetail({ id }: { id: string }) {
  const risk = rowsOf('stand-risks', table('stand-risks').value).find((row) => row.id === id)!;
  return (
    <>
      <Heading flag={LEVEL_SIGN[risk.level]} flagClass={`level ${risk.level}`}>
        {risk.subject.name}: {LEVEL_WORDS[risk.level]}
      </Heading>
      <p class="para">{risk.verdict}</p>
      <Measures
        rows={[
          [
            'In a pool of cold air',
            risk.inPool ? `yes, ${formatLength(risk.poolDepth, units.value, 'height')} deep` : 'no',
          ],
          ['Whose ground', ownerWords(risk.owner)],
        ]}
      />
      <Lines title="Why" lines={risk.reasons} kind="plain" />
      <Lines
        title="What this cannot know"
        lines={[...risk.doubts, ...(summary.value?.doubts.air ?? [])]}
        kind="doubts"
      />
      <Lines title="Cautions" lines={STAND_CAUTIONS} kind="caution" />
    </>
  );
}

function PoolDetail({ id }: { id: string }) {
  const pools = byVolume(rowsOf('pools', table('pools').value));
  const pool = pools.find((row) => row.id === id)!;
  return (
    <>
      <Heading flag={pools.indexOf(pool) + 1} flagClass="cold">
        Pool of cold air
      </Heading>
      <p class="para">{poolSentence(pool, units.value)}</p>
      <Measures
        rows={[
          ['Deepest', formatLength(pool.depth, units.value, 'height')],
          ['Air held', `${Math.round(pool.volume).toLocaleString('en-US')} m³`],
          ['Sill stands at', formatLength(pool.sillElevation, units.value, 'height')],
        ]}
      />
      <Lines title="What this cannot know" lines={summary.value?.doubts.air ?? []} kind="doubts" />
    </>
  );
}

function SaddleDetail({ id }: { id: string }) {
  const saddles = rowsOf('saddles', table('saddles').value);
  const saddle = saddles.find((row) => row.id === id)!;
  return (
    <>
      <Heading flag={saddles.indexOf(saddle) + 1} flagClass="earth">
        Saddle
      </Heading>
      <p class="para">{saddleSentence(saddle, units.value)}</p>
      <Measures
        rows={[
          ['Stands at', formatLength(saddle.elevation, units.value, 'height')],
          ['Below the lower top', formatLength(saddle.rise, units.value, 'height')],
          [
            'Width near the floor',
            saddle.width === null
              ? 'not measurable at this cell size'
              : formatLength(saddle.width, units.value),
          ],
        ]}
      />
      <Lines title="What this cannot know" lines={summary.value?.doubts.ground ?? []} kind="doubts" />
    </>
  );
}

function BenchDetail({ id }: { id: string }) {
  const benches = rowsOf('benches', table('benches').value);
  const bench = benches.find((row) => row.id === id)!;
  return (
    <>
      <Heading flag={benches.indexOf(bench) + 1} flagClass="earth">
        Bench
      </Heading>
      <p class="para">{benchSentence(bench, units.value)}</p>
      <Lines title="What this cannot know" lines={summary.value?.doubts.ground ?? []} kind="doubts" />
    </>
  );
}

function ChannelDetail({ id }: { id: string }) {
  const station = rowsOf('channels', table('channels').value).find((row) => row.id === id)!;
  const u = units.value;
  const depth = (side: number | null) =>
    side === null ? CHANNEL_SOURCE[station.source] : formatLength(side, u, 'height');
  return (
    <>
      <Heading flag="C" flagClass="cold">
        Channel
      </Heading>
      <p class="para">{channelSentence(station, u)}</p>
      <Measures
        rows={[
          ['Bed below the left bank', depth(station.left)],
          ['Bed below the right bank', depth(station.right)],
          [
            'Width when full',
            station.width === null ? CHANNEL_SOURCE[station.source] : formatLength(station.width, u),
          ],
          ['From the head of its line', formatLength(station.along, u)],
        ]}
      />
      <Lines title="What this cannot know" lines={summary.value?.doubts.ground ?? []} kind="doubts" />
    </>
  );
}

function JunctionDetail({ id }: { id: string }) {
  const junction = rowsOf('junctions', table('junctions').value).find((row) => row.id === id)!;
  return (
    <>
      <Heading flag={junction.rank} flagClass="square">
        {junction.arms.length} strands meet
      </Heading>
      <JunctionMeasures junction={junction} />
      <Lines title="What this cannot know" lines={summary.value?.doubts.travel ?? []} kind="doubts" />
    </>
  );
}
