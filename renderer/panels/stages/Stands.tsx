import type { StandRisk } from '../../../core/stands/types.ts';
import { rowsOf } from '../../state/rows.ts';
import { summary } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { flyTo } from '../../state/view.ts';
import { STAND_CAUTIONS } from '../../words/cautions.ts';
import { LEVEL_WORDS } from '../../words/sentences.ts';
import { Finding, Lines } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

export const LEVEL_SIGN = { low: '–', caution: '!', high: '!!', unknown: '?' } as const;
const ORDER = { high: 0, caution: 1, unknown: 2, low: 3 } as const;

export function Stands() {
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
