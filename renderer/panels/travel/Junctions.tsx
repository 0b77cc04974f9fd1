import { compassWord, formatLength, formatShare } from '../../../core/features/units.ts';
import type { Junction } from '../../../core/travel/types.ts';
import { rowsOf } from '../../state/rows.ts';
import { summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { choose, flyTo } from '../../state/view.ts';
import { junctionSentence, junctionTitle } from '../../words/junctions.ts';
import { list, ownerWords } from '../../words/sentences.ts';
import { Finding, Lines } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

/** Spots where three or more strands of travel meet, ranked. */
export function Junctions() {
  const junctions = rowsOf('junctions', table('junctions').value);
  if (!summary.value!.tables.some((t) => t.name === 'junctions')) return <Waiting what="Junctions" />;
  if (junctions.length === 0)
    return <p class="empty">Nowhere do three strands of travel meet within reach of one spot.</p>;
  return (
    <ol class="findings">
      {junctions.map((junction) => (
        <Finding
          key={junction.id}
          id={junction.id}
          flag={junction.rank}
          flagClass="square"
          title={junctionTitle(junction)}
          onPick={() => {
            choose('junctions', { on: true });
            flyTo({ type: 'junction', id: junction.id }, [junction.at]);
          }}
        >
          {junctionSentence(junction, units.value)}
        </Finding>
      ))}
    </ol>
  );
}

/** The strands round a junction, grid north up, each as long as its share. */
function Arms({ junction }: { junction: Junction }) {
  const most = Math.max(...junction.arms.map(({ share }) => share), 0.01);
  const words = list(
    junction.arms.map(({ bearing, share }) => `${formatShare(share)} to the ${compassWord(bearing)}`),
  );
  return (
    <svg class="arms" viewBox="-60 -60 120 120" role="img" aria-label={`Strands: ${words}.`}>
      <circle r="46" class="arms-rim" />
      <text y="-49" text-anchor="middle">
        N
      </text>
      {junction.arms.map(({ bearing, share }) => (
        <line
          key={bearing}
          x1="0"
          y1="0"
          x2={(44 * Math.sin((bearing * Math.PI) / 180) * share) / most}
          y2={(-44 * Math.cos((bearing * Math.PI) / 180) * share) / most}
          class="arms-arm"
        />
      ))}
      <circle r="4" class="arms-spot" />
    </svg>
  );
}

export function JunctionMeasures({ junction }: { junction: Junction }) {
  return (
    <>
      <p class="para">{junctionSentence(junction, units.value)}</p>
      <Arms junction={junction} />
      <dl class="measures">
        <div>
          <dt>Meet within</dt>
          <dd>{formatLength(junction.reach, units.value)}</dd>
        </div>
        <div>
          <dt>Whose ground</dt>
          <dd>{ownerWords(junction.owner)}</dd>
        </div>
        {junction.arms.map(({ bearing, share }) => (
          <div key={bearing}>
            <dt>
              To the {compassWord(bearing)} ({Math.round(bearing)}°)
            </dt>
            <dd>{formatShare(share)}</dd>
          </div>
        ))}
      </dl>
      <Lines title="Why here" lines={junction.reasons} kind="plain" />
    </>
  );
}
