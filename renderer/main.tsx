import './style/base.css';
import 'ol/ol.css';
import './style/layout.css';
import './style/page.css';
import './style/hand.css';
import './style/map.css';
import './style/shelf.css';
import './style/help.css';
import './style/air.css';
import './style/hours.css';
import './style/pictures.css';
import { effect } from '@preact/signals';
import { render } from 'preact';
import { connect } from './connection/connect.ts';
import { App } from './panels/App.tsx';
import { begin, report, summary } from './state/session.ts';
import { shownTheme } from './state/theme.ts';

effect(() => {
  document.documentElement.dataset.theme = shownTheme.value;
});
effect(() => {
  document.title = summary.value ? `${summary.value.name} · Hollowgate` : 'Hollowgate';
});

render(<App />, document.getElementById('window')!);

connect().then(begin).catch(report);
