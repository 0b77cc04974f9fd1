import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { isBlind, tellsOfNecks } from '../state/blind-trial.ts';
import { pinning } from '../state/pictures.ts';
import { summary } from '../state/session.ts';
import { STAGE_TITLE, type Stage } from '../state/stages.ts';
import { selection, stage } from '../state/view.ts';
import { Details } from './Details.tsx';
import { Lines } from './Finding.tsx';
import { Glyph } from './Glyph.tsx';
import { HelpButton } from './Help.tsx';
import { Methods } from './Methods.tsx';
import { PinPage } from './map/PinPage.tsx';
import { Air } from './stages/Air.tsx';
import { Cover } from './stages/Cover.tsx';
import { Ground } from './stages/Ground.tsx';
import { Report } from './stages/Report.tsx';
import { Stands } from './stages/Stands.tsx';
import { Travel } from './stages/Travel.tsx';
import { Work } from './stages/Work.tsx';
import { HiddenForTrial } from './travel/BlindTrial.tsx';

const LEAD: Record<Stage, string> = {
  ground: 'Where the ground rises, drains and lets through.',
  cover: 'What stands on it, as far as the input can show.',
  travel: 'Where deer must squeeze to get from one place to the next.',
  air: 'Where air and scent go, by the hour and by the wind.',
  stands: 'What a stand reaches, how to get there, and when to sit it.',
  work: 'What is on the ground, and what you would change.',
  report: 'What leaves the office.',
};

const BODY: Record<Stage, () => ComponentChildren> = {
  ground: Ground,
  cover: Cover,
  travel: Travel,
  air: Air,
  stands: Stands,
  work: Work,
  report: Report,
};

/** The notebook page of the stage: its findings, or the reasons behind the one chosen. */
export function Page() {
  const now = stage.value;
  const chosen = selection.value;
  const page = useRef<HTMLDivElement>(null);
  const last = useRef<string | null>(null);

  // Opening reasons puts the reader at their top; going back puts them on the finding they came from.
  useEffect(() => {
    const before = last.current;
    last.current = chosen?.id ?? null;
    if (chosen) {
      page.current?.scrollTo(0, 0);
      page.current?.querySelector<HTMLElement>('[data-detail-heading]')?.focus({ preventScroll: true });
    } else if (before !== null) {
      const item = page.current?.querySelector<HTMLElement>(`[data-finding="${CSS.escape(before)}"]`);
      item?.focus();
    }
  }, [chosen?.type, chosen?.id]);
  useEffect(() => {
    page.current?.scrollTo(0, 0);
  }, [now]);

  const Body = BODY[now];
  const doubts = summary.value?.doubts;
  const stageDoubts =
    doubts && (now === 'ground' || now === 'cover' || now === 'travel' || now === 'air') ? doubts[now] : [];
  return (
    <aside class="page" id="findings" tabIndex={-1} aria-label={`${STAGE_TITLE[now]}: findings`}>
      <div class="page-scroll" ref={page} key={now}>
        {chosen ? (
          <Details
            selection={chosen}
            back={
              <button
                type="button"
                class="quiet back"
                onClick={() => {
                  selection.value = null;
                }}
              >
                <Glyph name="back" size={18} /> Back to {STAGE_TITLE[now]}
              </button>
            }
          />
        ) : pinning.value ? (
          <PinPage picture={pinning.value} />
        ) : (
          <>
            <header class="page-head">
              <h2>{STAGE_TITLE[now]}</h2>
              <HelpButton />
              <p class="lead">{LEAD[now]}</p>
            </header>
            {isBlind.value && tellsOfNecks(now) ? <HiddenForTrial /> : <Body />}
            <Lines title="What this cannot know" lines={stageDoubts} kind="doubts" />
            <Methods stage={STAGE_TITLE[now]} />
            {(now === 'ground' || now === 'cover') && (
              <Lines title="What would make it better" lines={summary.value?.missing ?? []} kind="missing" />
            )}
          </>
        )}
      </div>
    </aside>
  );
}
