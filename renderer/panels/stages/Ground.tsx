import { effect, signal } from '@preact/signals';
import { formatArea, formatLength } from '../../../core/features/units.ts';
import { COARSE_CELL } from '../../../core/terrain/types.ts';
import { stopAim } from '../../state/aiming.ts';
import { pointsOf, rowsOf } from '../../state/rows.ts';
import { summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { flyTo } from '../../state/view.ts';
import { benchSentence, saddleSentence } from '../../words/sentences.ts';
import { Finding, Lines, Section } from '../Finding.tsx';
import { AskGround } from '../ground/AskGround.tsx';
import { ToFetch } from '../ground/ToFetch.tsx';
import { Water } from '../ground/Water.tsx';
import { Leaves } from '../Leaves.tsx';
import { Waiting } from '../waiting.tsx';

const SHOWN = 8;

const leaf = signal<'forms' | 'ask' | 'water' | 'fetch'>('forms');
// A question is put from its own leaf; leaving it ends the wait for a place.
effect(() => {
  if (leaf.value !== 'ask') stopAim();
});

export function Ground() {
  return (
    <Leaves
      label="Ground"
      chosen={leaf}
      leaves={[
        { id: 'forms', title: 'Forms', body: () => <Forms /> },
        { id: 'ask', title: 'Ask', body: () => <AskGround /> },
        { id: 'water', title: 'Water', body: () => <Water /> },
        { id: 'fetch', title: 'To fetch', body: () => <ToFetch /> },
      ]}
    />
  );
}

function Forms() {
  const saddles = rowsOf('saddles', table('saddles').value);
  const benches = rowsOf('benches', table('benches').value);
  const { frame, ownedArea, importNotes } = summary.value!;
  const known = summary.value!.tables.some((t) => t.name === 'saddles');
  const u = units.value;
  return (
    <>
      <p class="facts">
        {formatLength(frame.width * frame.cellSize, u)} by {formatLength(frame.height * frame.cellSize, u)} of
        ground in cells of {frame.cellSize} m
        {ownedArea !== null && <>, of which {formatArea(ownedArea, u)} lie inside the boundary</>}.
      </p>
      {!known && <Waiting what="Saddles, benches, draws and ridges" />}
      {known && (
        <Section title="Saddles" count={saddles.length}>
          {saddles.length > 0 && frame.cellSize >= COARSE_CELL && (
            <p class="empty">
              Cells of {frame.cellSize} m cannot show a saddle that deer use. These are the most marked gaps
              in whole ridges; the stage’s doubts say how many were left out.
            </p>
          )}
          {saddles.length === 0 && <p class="empty">No saddle deep enough to matter at this cell size.</p>}
          <ol class="findings">
            {saddles.slice(0, SHOWN).map((saddle, i) => (
              <Finding
                key={saddle.id}
                id={saddle.id}
                flag={i + 1}
                flagClass="earth"
                title={`Saddle ${i + 1}`}
                onPick={() => flyTo({ type: 'saddle', id: saddle.id }, [saddle.at])}
              >
                {saddleSentence(saddle, u)}
              </Finding>
            ))}
          </ol>
          <More shown={SHOWN} of={saddles.length} />
        </Section>
      )}
      {benches.length > 0 && (
        <Section title="Benches" count={benches.length}>
          <ol class="findings">
            {benches.slice(0, SHOWN).map((bench, i) => (
              <Finding
                key={bench.id}
                id={bench.id}
                flag={i + 1}
                flagClass="earth"
                title={`Bench ${i + 1}`}
                onPick={() => flyTo({ type: 'bench', id: bench.id }, pointsOf(bench.shape))}
              >
                {benchSentence(bench, u)}
              </Finding>
            ))}
          </ol>
          <More shown={SHOWN} of={benches.length} />
        </Section>
      )}
      <Lines title="What the files said" lines={importNotes} kind="plain" />
    </>
  );
}

export function More({ shown, of }: { shown: number; of: number }) {
  return of > shown ? <p class="more">{of - shown} more on the map.</p> : null;
}
