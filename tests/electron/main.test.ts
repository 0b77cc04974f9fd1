/**
 * The Electron window host by contract: `electron` is a stand-in that records what is asked of it. Checked
 * against Electron's security guide, "Checklist: security recommendations" (numbers from memory of the list).
 */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type * as Electron from 'electron';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import type { FromService, ToService } from '../../electron/host/wire.ts';
import type { Reply } from '../../electron/service/contract.ts';
import { app, type FakeProcess, type FakeWindow, record, session } from './host/fake-electron.ts';

vi.mock('electron', () => import('./host/fake-electron.ts'));

let folder: string;
let window: FakeWindow;
const service = (): FakeProcess => record.forks.at(-1)!.process;

vi.mock('../../electron/host/places.ts', async () => {
  const { tmpdir } = await import('node:os');
  const { mkdtempSync } = await import('node:fs');
  const base = mkdtempSync(`${tmpdir()}/main-test-`);
  return { dist: `${base}/dist`, dataFolder: () => `${base}/data`, version: () => '9.9.9', root: base };
});

beforeAll(async () => {
  folder = (await import('../../electron/host/places.ts')).root;
  mkdirSync(join(folder, 'dist', 'renderer'), { recursive: true });
  writeFileSync(join(folder, 'dist', 'renderer', 'index.html'), '<!doctype html><title>window</title>');
  writeFileSync(join(folder, 'dist', 'preload.cjs'), 'the preload is not for the page');
  process.argv.push('/maps/ridge.gpkg');
  await import('../../electron/main.ts');
  expect(record.windows).toEqual([]);
  app.becomeReady();
  await vi.waitFor(() => expect(record.windows).toHaveLength(1));
  window = record.windows[0]!;
});

afterAll(() => {
  process.argv.pop();
  rmSync(folder, { recursive: true });
});

/** Sends a message as the page would, or with a sender of the test's choosing. */
function send(name: unknown, params: unknown, binary?: unknown, event?: object): Promise<Reply> {
  const sender = { sender: window.webContents, senderFrame: window.webContents.mainFrame, ...event };
  return record.ipc.get('hollowgate:request')!(sender, name, params, binary) as Promise<Reply>;
}
const lastRequest = () =>
  service().posted.findLast((message) => message.type === 'request') as Extract<
    ToService,
    { type: 'request' }
  >;
const say = (message: FromService) => service().say(message);
const eventsSent = () => window.webContents.sent.map(([, event]) => event);

describe('the page', () => {
  test('is isolated, sandboxed and without Node (guide 2, 3, 4, 6, 7, 8, 9)', () => {
    expect(window.options.webPreferences).toMatchObject({
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
    });
    expect(window.options.webPreferences).not.toHaveProperty('enableBlinkFeatures');
    expect(window.options.webPreferences!.preload).toBe(join(folder, 'dist', 'preload.cjs'));
    expect(record.sandboxed).toBe(true);
  });

  test('comes from a scheme of our own, not from files (guide 1, 18)', () => {
    expect(window.loaded).toEqual(['hollowgate://window/']);
    expect(record.privileges).toEqual([
      { scheme: 'hollowgate', privileges: { standard: true, secure: true, supportFetchAPI: true } },
    ]);
  });

  test('is served with a strict content policy (guide 7)', async () => {
    const serve = record.schemes.get('hollowgate')!;
    const page = await serve(new Request('hollowgate://window/'));
    expect(page.status).toBe(200);
    expect(await page.text()).toContain('<title>window</title>');
    const policy = page.headers.get('content-security-policy')!;
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|\*/);
    for (const address of [
      'hollowgate://elsewhere/',
      'hollowgate://window/../preload.cjs',
      'hollowgate://window/%2e%2e/preload.cjs',
      'hollowgate://window/nothing.js',
    ]) {
      expect((await serve(new Request(address))).status, address).toBe(404);
    }
    expect((await serve(new Request('hollowgate://window/', { method: 'POST' }))).status).toBe(404);
  });

  test('reaches no network', () => {
    const cancelled = (url: string) => {
      let answer: boolean | null = null;
      record.beforeRequest!({ url }, ({ cancel }) => {
        answer = cancel;
      });
      return answer;
    };
    expect(cancelled('hollowgate://window/main.js')).toBe(false);
    expect(cancelled('blob:hollowgate://window/1-2-3')).toBe(false);
    for (const url of [
      'https://elsewhere.example/',
      'http://127.0.0.1/',
      'file:///etc/passwd',
      'ws://elsewhere.example',
      'hollowgate://window.elsewhere.example/',
      'blob:https://elsewhere.example/1',
    ]) {
      expect(cancelled(url), url).toBe(true);
    }
  });

  test('may not navigate, open windows or embed (guide 12, 13, 14)', () => {
    const { webContents } = window;
    const prevented = (name: string, details: object) => {
      let stopped = false;
      webContents.emit(name, {
        ...details,
        preventDefault() {
          stopped = true;
        },
      });
      return stopped;
    };
    for (const url of [
      'https://elsewhere.example/',
      'file:///etc/passwd',
      'javascript:alert(1)',
      'about:blank',
    ]) {
      expect(prevented('will-navigate', { url }), url).toBe(true);
      expect(prevented('will-redirect', { url }), url).toBe(true);
      expect(webContents.openHandler!({ url })).toEqual({ action: 'deny' });
    }
    expect(webContents.openHandler!({ url: 'hollowgate://window/' })).toEqual({ action: 'deny' });
    expect(prevented('will-frame-navigate', { url: 'hollowgate://window/', isMainFrame: false })).toBe(true);
    expect(prevented('will-navigate', { url: 'hollowgate://window/' })).toBe(false);
    expect(prevented('will-attach-webview', {})).toBe(true);
  });

  test('is granted the clipboard for copying and full screen, nothing else (guide 5)', () => {
    const asked = (permission: string, requestingUrl: string) => {
      let granted: boolean | null = null;
      record.permissionRequest!(
        window.webContents as never,
        permission as never,
        (answer) => {
          granted = answer;
        },
        { requestingUrl, isMainFrame: true } as never,
      );
      const checked = record.permissionCheck!(
        window.webContents as never,
        permission as never,
        '',
        {} as never,
      );
      return [granted, checked];
    };
    expect(asked('fullscreen', 'hollowgate://window/')).toEqual([true, true]);
    for (const permission of [
      'geolocation',
      'media',
      'notifications',
      'clipboard-read',
      'openExternal',
      'usb',
      'hid',
    ]) {
      expect(asked(permission, 'hollowgate://window/'), permission).toEqual([false, false]);
    }
    expect(asked('fullscreen', 'https://elsewhere.example/')[0]).toBe(false);
    expect(record.permissionCheck!(null, 'fullscreen', '', {} as never)).toBe(false);
    expect(record.device!({} as never)).toBe(false);
    let stopped = false;
    session.defaultSession.emit('will-download', {
      preventDefault() {
        stopped = true;
      },
    });
    expect(stopped).toBe(true);
  });
});

describe('the service process', () => {
  test('is started with what it needs, and opens the property given at launch instead of the sample', () => {
    expect(record.forks[0]!.module).toBe(join(folder, 'dist', 'service-process.js'));
    expect(service().posted[0]).toEqual({
      type: 'start',
      dataFolder: join(folder, 'data'),
      version: '9.9.9',
      openSample: false,
    });
    expect(service().posted[1]).toMatchObject({
      type: 'request',
      name: 'property.open',
      params: { path: '/maps/ridge.gpkg' },
    });
    const { id } = service().posted[1] as Extract<ToService, { type: 'request' }>;
    say({ type: 'reply', id, reply: { ok: true, answer: null } });
    // The menu asks for the properties opened last.
    say({ type: 'reply', id: lastRequest().id, reply: { ok: true, answer: [] } });
  });

  test('gets the page’s requests, with bytes, and answers them', async () => {
    const bytes = new Uint8Array([9, 8, 7]);
    const reply = send('import.file', { staging: 's' }, bytes);
    const { id, ...rest } = lastRequest();
    expect(rest).toEqual({ type: 'request', name: 'import.file', params: { staging: 's' }, binary: bytes });
    say({ type: 'reply', id, reply: { ok: true, answer: { received: 3 } } });
    expect(await reply).toEqual({ ok: true, answer: { received: 3 } });
  });

  test('never sees a message from elsewhere (guide 17)', async () => {
    const before = service().posted.length;
    const own = window.webContents.mainFrame;
    const senders = [
      { senderFrame: null },
      { senderFrame: { url: 'https://elsewhere.example/', parent: null } },
      { senderFrame: { url: 'hollowgate://window.elsewhere.example/', parent: null } },
      { senderFrame: { url: 'file:///index.html', parent: null } },
      { senderFrame: { url: own.url, parent: own } },
      { sender: {} },
    ];
    for (const sender of senders) {
      expect(await send('host.describe', {}, null, sender)).toMatchObject({
        ok: false,
        trouble: { kind: 'refused' },
      });
    }
    expect(service().posted).toHaveLength(before);
  });

  test('never sees a malformed message', async () => {
    const before = service().posted.length;
    const bad: [unknown, unknown, unknown?][] = [
      [undefined, {}],
      ['__proto__', {}],
      ['host.describe', null],
      ['host.describe', []],
      [{ toString: () => 'host.describe' }, {}],
      ['import.file', {}, 'text'],
      ['import.file', {}, new ArrayBuffer(4)],
      ['import.file', {}, new Uint8Array(64 * 1024 * 1024 + 1)],
    ];
    for (const [name, params, binary] of bad) {
      expect(await send(name, params, binary)).toMatchObject({ ok: false, trouble: { kind: 'refused' } });
    }
    expect(service().posted).toHaveLength(before);
  });

  test('its events reach the page, and trouble from before the page waits for it', () => {
    const trouble = { kind: 'problem', message: 'no', file: null, fix: 'yes', question: null } as const;
    say({ type: 'event', event: { type: 'scout.cancelled', run: 'early' } });
    say({ type: 'event', event: { type: 'host.trouble', trouble } });
    expect(eventsSent()).toEqual([]);
    window.webContents.emit('did-finish-load');
    say({ type: 'event', event: { type: 'scout.cancelled', run: 'late' } });
    expect(window.webContents.sent).toEqual([
      ['hollowgate:event', { type: 'host.trouble', trouble }],
      ['hollowgate:event', { type: 'scout.cancelled', run: 'late' }],
    ]);
  });

  test('has the system’s dialog shown for it', async () => {
    record.picked = ['/maps/north.gpkg'];
    say({ type: 'pick', id: 4, what: 'file' });
    await vi.waitFor(() =>
      expect(service().posted.at(-1)).toEqual({ type: 'picked', id: 4, path: '/maps/north.gpkg' }),
    );
    record.picked = [];
    say({ type: 'pick', id: 5, what: 'folder' });
    await vi.waitFor(() => expect(service().posted.at(-1)).toEqual({ type: 'picked', id: 5, path: null }));
    expect(record.dialogs.map(({ properties }) => properties)).toEqual([['openFile'], ['openDirectory']]);
  });

  test('is started again when it dies, and the page is told', async () => {
    const complain = vi.spyOn(console, 'error').mockImplementation(() => {});
    window.webContents.sent = [];
    service().emit('exit', 134);
    expect(record.forks).toHaveLength(2);
    expect(service().posted[0]).toMatchObject({ type: 'start', openSample: false });
    expect(eventsSent()).toEqual([
      { type: 'property.changed', summary: null },
      { type: 'host.trouble', trouble: expect.objectContaining({ kind: 'fault' }) },
    ]);
    complain.mockRestore();
  });
});

describe('the window', () => {
  test('shows when it is ready, and its page is shown again when it crashes, twice', () => {
    window.emit('ready-to-show');
    expect(window.shown).toBe(true);
    for (let crash = 0; crash < 2; crash++) {
      window.webContents.emit('render-process-gone', {}, { reason: 'crashed' });
    }
    expect(window.reloads).toBe(2);
    expect(record.errorBoxes).toEqual([]);
  });

  test('is the only one: a second launch comes forward', () => {
    window.minimized = true;
    app.emit('second-instance', {}, ['hollowgate'], '/maps');
    expect(window.minimized).toBe(false);
    expect(record.focused).toBe(1);
  });

  test('remembers its place', () => {
    window.emit('close');
    expect(JSON.parse(readFileSync(join(folder, 'data', 'window.json'), 'utf8'))).toEqual({
      bounds: { x: 5, y: 6, width: 1000, height: 700 },
      maximized: false,
    });
  });

  const item = (label: string) =>
    (record.menu[0]!.submenu as Electron.MenuItemConstructorOptions[]).find((each) => each.label === label)!;
  const choose = (each: Electron.MenuItemConstructorOptions) => (each.click as () => void)();

  test('has a menu of roles and of requests the service knows', () => {
    const labels = record.menu.map(({ label, role }) => label ?? role);
    expect(labels).toEqual(['&File', 'editMenu', '&View', 'windowMenu', 'help']);
  });

  test('lists the properties opened last in its menu and in the system’s own list, and opens one', async () => {
    const row = (name: string, day: number, more: object = {}) => ({
      id: name,
      path: `/maps/${name}.gpkg`,
      name,
      client: '',
      invented: false,
      opened: `2026-03-0${day}T10:00:00Z`,
      archived: false,
      there: true,
      outline: [],
      ...more,
    });
    const opening = send('property.open', { path: '/maps/new & old.gpkg' });
    say({ type: 'reply', id: lastRequest().id, reply: { ok: true, answer: {} } });
    await opening;
    await vi.waitFor(() => expect(lastRequest().name).toBe('shelf.list'));
    const shelf = [
      row('ridge', 1),
      row('new & old', 4),
      row('put away', 3, { archived: true }),
      row('gone', 2, { there: false }),
      row('twice', 2, { client: 'first' }),
      { ...row('twice', 1), path: '/maps/other/twice.gpkg' },
    ];
    say({ type: 'reply', id: lastRequest().id, reply: { ok: true, answer: shelf } });
    await vi.waitFor(() => expect(record.recent.at(-1)).toBe('/maps/new & old.gpkg'));
    const recent = item('Open &recent').submenu as Electron.MenuItemConstructorOptions[];
    expect(recent.map(({ label }) => label)).toEqual([
      'new && old',
      'twice (first)',
      'ridge',
      'twice (/maps/other/twice.gpkg)',
    ]);
    choose(recent[2]!);
    expect(lastRequest()).toMatchObject({ name: 'property.open', params: { path: '/maps/ridge.gpkg' } });
  });

  test('has the page export, and lets only what was written be dragged out of it', async () => {
    choose(item('Export everything'));
    expect(eventsSent().at(-1)).toEqual({ type: 'host.menu', item: 'export' });
    const exported = send('export.all', { folder: null });
    const answer = { folder: '/out', files: ['/out/report.pdf'] };
    say({ type: 'reply', id: lastRequest().id, reply: { ok: true, answer } });
    await exported;
    const drag = (file: unknown, event: object = {}) =>
      record.lines.get('hollowgate:drag')!(
        { sender: window.webContents, senderFrame: window.webContents.mainFrame, ...event },
        file,
      );
    await vi.waitFor(() => {
      drag('/out/report.pdf');
      expect(record.drags.length).toBeGreaterThan(0);
    });
    expect(record.drags[0]).toEqual({ file: '/out/report.pdf', icon: { iconOf: '/out/report.pdf' } });
    const before = record.drags.length;
    drag('/etc/passwd');
    drag({ file: '/out/report.pdf' });
    drag('/out/report.pdf', { senderFrame: { url: 'https://elsewhere.example/', parent: null } });
    expect(record.drags.length).toBe(before);
  });

  test('keeps its own data beside the properties', () => {
    expect(record.paths).toEqual({ userData: join(folder, 'data', 'window') });
  });

  test('opens a property that the system hands over', () => {
    app.emit('second-instance', {}, ['hollowgate', 'creek.GPKG'], '/maps');
    expect(lastRequest()).toMatchObject({ name: 'property.open', params: { path: '/maps/creek.GPKG' } });
    app.emit('open-file', { preventDefault() {} }, '/maps/saddle.gpkg');
    expect(lastRequest()).toMatchObject({ name: 'property.open', params: { path: '/maps/saddle.gpkg' } });
  });

  test('gives up after a third crash, and lets the service close its files before it goes', async () => {
    let gone = false;
    app.once('gone', () => {
      gone = true;
    });
    window.webContents.emit('render-process-gone', {}, { reason: 'crashed' });
    expect(window.reloads).toBe(2);
    expect(record.errorBoxes).toHaveLength(1);
    expect(service().posted.at(-1)).toEqual({ type: 'close' });
    expect(gone).toBe(false);
    say({ type: 'closed' });
    await vi.waitFor(() => expect(gone).toBe(true));
    expect(service().killed).toBe(true);
  });
});
