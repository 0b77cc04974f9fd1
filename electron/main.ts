/** The Electron window host: one window, one service process, and the system's dialogs between them. */
import { mkdirSync } from 'node:fs';
import { extname, join, resolve } from 'node:path';
import { app, BrowserWindow, dialog, Menu, screen, session, utilityProcess } from 'electron';
import { takeDrags } from './host/drag-out.ts';
import { dataFolder, dist, version } from './host/places.ts';
import { OPENS, recentOf } from './host/recent.ts';
import { linkService, type ServiceLink, type ServiceProcess } from './host/service-link.ts';
import { staticFiles } from './host/static-files.ts';
import { limitContents, limitSession, webPreferences } from './host/window-limits.ts';
import { menuTemplate } from './host/window-menu.ts';
import { takeRequests } from './host/window-requests.ts';
import { registerScheme, serveScheme } from './host/window-scheme.ts';
import { readWindowState, SMALLEST, writeWindowState } from './host/window-state.ts';
import { EVENT_CHANNEL, WINDOW_ADDRESS } from './host/wire.ts';
import type { Answer, ServiceEvent } from './service/contract.ts';
import type { ShelfRow } from './service/shelf-requests.ts';

const data = dataFolder();
const stateFile = join(data, 'window.json');
let window: BrowserWindow | null = null;
let link: ServiceLink | null = null;
let pageReady = false;
const unsaid: ServiceEvent[] = [];
let openFirst = pathFrom(process.argv, process.cwd());

try {
  mkdirSync(join(data, 'window'), { recursive: true, mode: 0o700 });
} catch {
  dialog.showErrorBox(
    'Hollowgate cannot start',
    `It cannot make its folder ${data}. Free the place or name another one in HOLLOWGATE_DATA.`,
  );
  process.exit(1);
}
app.setPath('userData', join(data, 'window'));
// For every process, not only the window's page; root alone was started without, and there it cannot be had back.
if (!app.commandLine.hasSwitch('no-sandbox')) app.enableSandbox();
registerScheme();

if (app.requestSingleInstanceLock()) {
  app.on('second-instance', (_event, argv, folder) => {
    const path = pathFrom(argv, folder);
    if (path !== null) open(path);
    if (window?.isMinimized()) window.restore();
    window?.focus();
  });
  // macOS hands over a double-clicked property this way, also before the app is ready.
  app.on('open-file', (event, path) => {
    event.preventDefault();
    open(path);
  });
  app.on('web-contents-created', (_event, contents) => limitContents(contents));
  app.on('window-all-closed', () => app.quit());
  app.on('will-quit', closeService);
  // Not awaited: Electron is ready only after this module has run.
  void app.whenReady().then(start);
} else {
  app.quit();
}

function start(): void {
  limitSession(session.defaultSession);
  serveScheme(session.defaultSession, staticFiles(join(dist, 'renderer')));

  const displays = screen.getAllDisplays().map((display) => display.workArea);
  const { bounds, maximized } = readWindowState(stateFile, displays);
  const opened = new BrowserWindow({
    title: 'Hollowgate',
    ...(bounds ?? { width: 1440, height: 900 }),
    minWidth: SMALLEST.width,
    minHeight: SMALLEST.height,
    show: false,
    webPreferences: webPreferences(join(dist, 'preload.cjs')),
  });
  window = opened;

  const first = openFirst;
  const made = linkService({
    start: () =>
      utilityProcess.fork(join(dist, 'service-process.js'), [], {
        serviceName: 'Hollowgate service',
      }) as unknown as ServiceProcess,
    dataFolder: data,
    version: version(),
    openSample: first === null,
    tell,
    pick: (what) => pick(opened, what),
  });
  link = made;
  const drags = takeDrags(opened);
  takeRequests(opened, made, (name, answer) => {
    if (OPENS.has(name)) void showRecent();
    if (name === 'export.all') void drags.allow((answer as Answer<'export.all'>).files);
  });
  if (first !== null) open(first);

  setMenu([]);
  void showRecent();

  opened.once('ready-to-show', () => {
    if (maximized) opened.maximize();
    opened.show();
    process.send?.('window-open');
  });
  opened.on('close', () =>
    writeWindowState(stateFile, { bounds: opened.getNormalBounds(), maximized: opened.isMaximized() }),
  );
  opened.on('closed', () => {
    window = null;
  });
  opened.webContents.on('did-start-loading', () => {
    pageReady = false;
  });
  opened.webContents.on('did-finish-load', () => {
    pageReady = true;
    for (const event of unsaid.splice(0)) tell(event);
  });
  opened.webContents.on('render-process-gone', (_event, { reason }) => pageGone(opened, reason));
  void opened.loadURL(WINDOW_ADDRESS);
}

function setMenu(recent: readonly ShelfRow[]): void {
  const actions = {
    pick: (what: 'file' | 'folder') => ask('property.pick', { what }),
    openSample: () => ask('property.openSample', {}),
    open,
    exportAll: () => tell({ type: 'host.menu', item: 'export' }),
  };
  const template = menuTemplate(actions, process.platform, !app.isPackaged, recent);
  Menu.setApplicationMenu(Menu.buildFromTemplate(template));
}

/** Brings the menu and the system's own list of documents up to date; without an answer they stay as they are. */
async function showRecent(): Promise<void> {
  const reply = await link?.request({ name: 'shelf.list', params: {}, binary: null });
  if (!reply?.ok) return;
  const recent = recentOf(reply.answer as ShelfRow[]);
  setMenu(recent);
  if (recent[0]) app.addRecentDocument(recent[0].path);
}

let reloads = 0;
/** The page holds no work of its own, so it is simply shown again; twice at most. */
function pageGone(gone: BrowserWindow, reason: string): void {
  if (reason === 'clean-exit' || gone.isDestroyed()) return;
  reloads++;
  if (reloads <= 2) {
    gone.reload();
    return;
  }
  dialog.showErrorBox(
    'The window stopped working',
    'Start Hollowgate again. Every finished edit is in your property file.',
  );
  app.quit();
}

/** Passes an event to the page; one that no request stands behind waits until there is a page. */
function tell(event: ServiceEvent): void {
  if (window !== null && pageReady) window.webContents.send(EVENT_CHANNEL, event);
  else if (event.type === 'host.trouble') unsaid.push(event);
}

/** Asks the service on the menu's or the system's behalf; trouble shows in the window. */
function ask(name: string, params: unknown): void {
  void link?.request({ name, params, binary: null }).then((reply) => {
    if (!reply.ok) tell({ type: 'host.trouble', trouble: reply.trouble });
    else if (OPENS.has(name)) void showRecent();
  });
}

function open(path: string): void {
  if (link === null) openFirst = path;
  else ask('property.open', { path });
}

async function pick(parent: BrowserWindow, what: 'folder' | 'file'): Promise<string | null> {
  const { canceled, filePaths } = await dialog.showOpenDialog(
    parent,
    what === 'folder'
      ? { title: 'Open a folder of rasters', properties: ['openDirectory'] }
      : {
          title: 'Open a property',
          properties: ['openFile'],
          filters: [{ name: 'Hollowgate property', extensions: ['gpkg'] }],
        },
  );
  return canceled ? null : (filePaths[0] ?? null);
}

/** A property given on the command line: by --open=, or bare, as a file association gives it. */
function pathFrom(argv: readonly string[], folder: string): string | null {
  const given = argv.find((argument) => argument.startsWith('--open='))?.slice('--open='.length);
  const bare = argv
    .slice(1)
    .find((argument) => !argument.startsWith('-') && extname(argument).toLowerCase() === '.gpkg');
  const path = given || bare;
  return path ? resolve(folder, path) : null;
}

/** Holds the quit until the service has closed its files. */
function closeService(event: { preventDefault(): void }): void {
  const closing = link;
  if (closing === null) return;
  link = null;
  event.preventDefault();
  void closing.close().finally(() => app.quit());
}
