import { effect, signal } from '@preact/signals';
import { capital } from '../../../core/features/units.ts';
import { stopAim } from '../../state/aiming.ts';
import { isBlind } from '../../state/blind-trial.ts';
import { rowsOf } from '../../state/rows.ts';
import { summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { flyTo } from '../../state/view.ts';
import { NECK_CAUTION } from '../../words/cautions.ts';
import { crossingSentence, neckSentence, neckTitle } from '../../words/sentences.ts';
import { Assumptions } from '../Assumptions.tsx';
import { crossedName } from '../crossed.ts';
import { Finding, SpreadBar, spreadLabel } from '../Finding.tsx';
import { Leaves } from '../Leaves.tsx';
import { BlindTrial, BlindTrialOffer } from '../travel/BlindTrial.tsx';
import { Junctions } from '../travel/Junctions.tsx';
import { Moved } from '../travel/Moved.tsx';
import { Plans } from '../travel/Plans.tsx';
import { Sureness } from '../travel/Sureness.tsx';
import { TravelFor } from '../travel/TravelFor.tsx';
import { WhatIf } from '../travel/WhatIf.tsx';
import { Why } from '../travel/Why.tsx';
import { Waiting } from '../waiting.tsx';

const leaf = signal<
  'necks' | 'crossings' | 'junctions' | 'why' | 'what-if' | 'plans' | 'sure' | 'assumptions'
>('necks');
// A question is put from its own leaf; leaving it ends the wait for a place.
effect(() => {
  void leaf.value;
  stopAim();
});

export function Travel() {
  const necks = rowsOf('necks', table('necks').value);
  const crossings = rowsOf('crossings', table('crossings').value);
  if (isBlind.value) return <BlindTrial />;
  return (
    <>
      <TravelFor />
      <Moved />
      <Leaves
        label="Travel"
        chosen={leaf}
        leaves={[
          { id: 'necks', title: `Necks ${necks.length || ''}`, body: () => <Necks /> },
          { id: 'crossings', title: `Crossings ${crossings.length || ''}`, body: () => <Crossings /> },
          { id: 'junctions', title: 'Junctions', body: () => <Junctions /> },
          { id: 'why', title: 'Why here', body: () => <Why /> },
          { id: 'what-if', title: 'What if', body: () => <WhatIf /> },
          { id: 'plans', title: 'Plans', body: () => <Plans /> },
          { id: 'sure', title: 'How sure', body: () => <Sureness /> },
          {
            id: 'assumptions',
            title: 'Assumptions',
            body: () => <Assumptions />,
          },
        ]}
      />
    </>
  );
}

function Necks() {
  const necks = rowsOf('necks', table('necks').value);
  const known = summary.value!.tables.some((t) => t.name === 'necks');
  if (!known)
    return (
      <>
        <Waiting what="Necks, ranked," />
        <BlindTrialOffer />
      </>
    );
  if (necks.length === 0)
    return (
      <p class="empty">
        No place stands out: travel can spread everywhere between the areas. That is an answer too.
      </p>
    );
  const most = Math.max(...necks.map((neck) => Math.max(neck.share, neck.spread?.high ?? 0)), 0.01);
  return (
    <>
      <p class="caution-line">{NECK_CAUTION}</p>
      <ol class="findings">
        {necks.map((neck) => (
          <Finding
            key={neck.id}
            id={neck.id}
            flag={neck.rank}
            flagClass={neck.firm ? 'tape firm' : 'tape open'}
            title={neckTitle(neck, units.value)}
            onPick={() => flyTo({ type: 'neck', id: neck.id }, [...(neck.line ?? []), neck.at])}
          >
            {neckSentence(neck)}
            <span class="spread-row">
              <SpreadBar share={neck.share} spread={neck.spread} most={most} />
              <span class="spread-words">{spreadLabel(neck.share, neck.spread)}</span>
            </span>
          </Finding>
        ))}
      </ol>
    </>
  );
}

function Crossings() {
  const crossings = rowsOf('crossings', table('crossings').value);
  const known = summary.value!.tables.some((t) => t.name === 'crossings');
  if (!known) return <Waiting what="Crossings" />;
  if (crossings.length === 0)
    return <p class="empty">No corridor meets a road, creek, fence or property line that is on the map.</p>;
  return (
    <ol class="findings">
      {crossings.map((crossing) => (
        <Finding
          key={crossing.id}
          id={crossing.id}
          flag={
            crossing.kind === 'ownership line'
              ? 'L'
              : crossing.kind === 'railroad'
                ? 'T'
                : crossing.kind[0]!.toUpperCase()
          }
          flagClass="square"
          title={`${capital(crossing.kind)}${crossedName(crossing) ? `: ${crossedName(crossing)}` : ''}`}
          onPick={() => flyTo({ type: 'crossing', id: crossing.id }, [crossing.at])}
        >
          {crossingSentence(crossing)}
        </Finding>
      ))}
    </ol>
  );
}
