import type { Pool } from '../../../core/air/types.ts';
import { formatLength } from '../../../core/features/units.ts';
import { airLeaf } from '../../state/air-asks.ts';
import { type Row, rowsOf } from '../../state/rows.ts';
import { summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { flyTo } from '../../state/view.ts';
import { poolSentence } from '../../words/sentences.ts';
import { Clock } from '../air/Clock.tsx';
import { Rose } from '../air/Rose.tsx';
import { StandSeason } from '../air/Season.tsx';
import { Trails } from '../air/Trails.tsx';
import { Finding, Section } from '../Finding.tsx';
import { Leaves } from '../Leaves.tsx';
import { Waiting } from '../waiting.tsx';
import { More } from './Ground.tsx';

const SHOWN = 12;

/** The order pools are numbered in. */
export const byVolume = (pools: Row<Pool>[]): Row<Pool>[] => pools.toSorted((a, b) => b.volume - a.volume);

export function Air() {
  return (
    <Leaves
      label="Air"
      chosen={airLeaf}
      leaves={[
        { id: 'clock', title: 'Clock', body: () => <Clock /> },
        { id: 'season', title: 'Stand', body: () => <StandSeason /> },
        { id: 'deer', title: 'Deer’s wind', body: () => <Trails /> },
        { id: 'wind', title: 'Wind', body: () => <Rose /> },
        { id: 'night', title: 'Night', body: () => <Night /> },
      ]}
    />
  );
}
function Night() {
  const pools = byVolume(rowsOf('pools', table('pools').value));
  const known = summary.value!.tables.some((t) => t.name === 'pools');
  if (!known) return <Waiting what="Pools and the paths of night air" />;
  return (
    <>
      <p class="facts">Here only the drainage of a clear, calm night is drawn.</p>
      <Section title="Pools of cold air" count={pools.length}>
        {pools.length === 0 && <p class="empty">No hollow with a sill that holds air at this cell size.</p>}
        <ol class="findings">
          {pools.slice(0, SHOWN).map((pool, i) => (
            <Finding
              key={pool.id}
              id={pool.id}
              flag={i + 1}
              flagClass="cold"
              title={`Pool ${formatLength(pool.depth, units.value, 'height')} deep`}
              onPick={() => flyTo({ type: 'pool', id: pool.id }, [pool.at, pool.sill], 400)}
            >
              {poolSentence(pool, units.value)}
            </Finding>
          ))}
        </ol>
        <More shown={SHOWN} of={pools.length} />
      </Section>
    </>
  );
}
