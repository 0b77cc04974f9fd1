import type { StandRisk } from '../../../core/stands/types.ts';
import { rowsOf } from '../../state/rows.ts';
import { summary } from '../../state/session.ts';
import { stands } from '../../state/stand-list.ts';
import { standsLeaf, standsReady } from '../../state/stands-asks.ts';
import { table } from '../../state/tables.ts';
import { flyTo } from '../../state/view.ts';
import { STAND_CAUTIONS } from '../../words/cautions.ts';
import { LEVEL_WORDS } from '../../words/sentences.ts';
import { Finding, Lines } from '../Finding.tsx';
import { Leaves } from '../Leaves.tsx';
import { Cameras } from '../stands/Cameras.tsx';
import { Chooser } from '../stands/Chooser.tsx';
import { Compare } from '../stands/Compare.tsx';
import { DayAhead } from '../stands/DayAhead.tsx';
import { Hours } from '../stands/Hours.tsx';
import { InRange } from '../stands/InRange.tsx';
import { Log } from '../stands/Log.tsx';
import { Rulings } from '../stands/Rulings.tsx';
import { Screens } from '../stands/Screens.tsx';
import { Search } from '../stands/Search.tsx';
import { SeasonSheet } from '../stands/SeasonSheet.tsx';
import { Verdict } from '../stands/Verdict.tsx';
import { WaysIn } from '../stands/WaysIn.tsx';
import { Waiting } from '../waiting.tsx';

export const LEVEL_SIGN = { low: '–', caution: '!', high: '!!', unknown: '?' } as const;
const ORDER = { high: 0, caution: 1, unknown: 2, low: 3 } as const;

export function Stands() {
  return (
    <Leaves
      label="Stands"
      chosen={standsLeaf}
      leaves={[
        { id: 'night', title: 'Night air', body: () => <NightRisks /> },
        { id: 'range', title: 'In range', body: () => <OfOne body={InRange} /> },
        { id: 'ways', title: 'Ways in', body: () => <OfOne body={WaysIn} /> },
        { id: 'screens', title: 'Screens', body: () => <OfOne body={Screens} /> },
        { id: 'verdict', title: 'Verdict', body: () => <OfOne body={Verdict} /> },
        { id: 'compare', title: 'Compare', body: () => <OfAll body={Compare} /> },
        { id: 'rulings', title: 'Rulings', body: () => <OfAll body={Rulings} /> },
        { id: 'search', title: 'New sites', body: () => <NewSites /> },
        { id: 'season', title: 'Season', body: () => <OfAll body={SeasonSheet} /> },
        { id: 'hours', title: 'Hours', body: () => <OfAll body={Hours} /> },
        { id: 'day', title: 'A day', body: () => <OfAll body={DayAhead} /> },
        { id: 'log', title: 'Log', body: () => <OfAll body={Log} /> },
      ]}
    />
  );
}

/** Questions of one stand stand under the choice of it. */
function OfOne({ body: Body }: { body: () => preact.ComponentChildren }) {
  if (!standsReady.value) return <Waiting what="What a stand reaches" />;
  return (
    <>
      <Chooser />
      <Body />
      <Lines title="Cautions" lines={STAND_CAUTIONS} kind="caution" />
    </>
  );
}

/** Questions of all stands of the map at once. */
function OfAll({ body: Body }: { body: () => preact.ComponentChildren }) {
  if (!standsReady.value) return <Waiting what="When each stand is sat" />;
  return (
    <>
      {stands.value.length === 0 ? (
        <p class="empty">There is no stand on the map: draw one (Work), or try a spot under In range.</p>
      ) : (
        <Body />
      )}
      <Lines title="Cautions" lines={STAND_CAUTIONS} kind="caution" />
    </>
  );
}

/** A search needs no stand to be there. */
function NewSites() {
  if (!standsReady.value) return <Waiting what="Where a stand would pay" />;
  return (
    <>
      <Search />
      <Cameras />
      <Lines title="Cautions" lines={STAND_CAUTIONS} kind="caution" />
    </>
  );
}

function NightRisks() {
  const risks = rowsOf('stand-risks', table('stand-risks').value).toSorted(
    (a, b) => ORDER[a.level] - ORDER[b.level],
  );
  const known = summary.value!.tables.some((t) => t.name === 'stand-risks');
  if (!known) return <Waiting what="What the night air does to each stand" />;
  const fromNecks = risks.some((risk) => risk.subject.type === 'neck');
  return (
    <>
      {fromNecks && (
        <p class="facts">
          There are no stands on the map, so the best necks were looked at as if someone sat there. Draw your
          stands (Work) to see theirs.
        </p>
      )}
      <ol class="findings">
        {risks.map((risk) => (
          <Finding
            key={risk.id}
            id={risk.id}
            flag={LEVEL_SIGN[risk.level]}
            flagClass={`level ${risk.level}`}
            title={`${risk.subject.name}: ${LEVEL_WORDS[risk.level]}`}
            onPick={() => flyTo({ type: 'stand', id: risk.id }, [risk.at, ...nearby(risk)], 300)}
          >
            {risk.verdict}
          </Finding>
        ))}
      </ol>
      <Lines title="Cautions" lines={STAND_CAUTIONS} kind="caution" />
    </>
  );
}

const NEAR = 500;

/** The part of the carry a person can take in beside the stand; the whole may run off the map. */
const nearby = ({ at: [x, y], carry }: StandRisk) =>
  carry.filter(([px, py]) => Math.hypot(px - x, py - y) < NEAR);
