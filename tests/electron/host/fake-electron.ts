/**
 * A stand-in for the `electron` module that records what the window host asks of it. The names and shapes are
 * those of electron.d.ts, held to it by the types below.
 */
import { EventEmitter } from 'node:events';
import { existsSync } from 'node:fs';
import type * as Electron from 'electron';
import type { FromService, ToService } from '../../../electron/host/wire.ts';

export const record = {
  privileges: [] as Electron.CustomScheme[],
  paths: {} as Record<string, string>,
  sandboxed: false,
  quits: 0,
  focused: 0,
  menu: [] as Electron.MenuItemConstructorOptions[],
  recent: [] as string[],
  drags: [] as Electron.Item[],
  lines: new Map<string, (event: unknown, ...rest: unknown[]) => void>(),
  dialogs: [] as Electron.OpenDialogOptions[],
  picked: [] as string[],
  errorBoxes: [] as string[],
  forks: [] as { module: string; process: FakeProcess }[],
  windows: [] as FakeWindow[],
  ipc: new Map<string, (event: unknown, ...rest: unknown[]) => unknown>(),
  schemes: new Map<string, (request: Request) => Response | Promise<Response>>(),
  beforeRequest: null as
    | ((details: { url: string }, decide: (r: { cancel: boolean }) => void) => void)
    | null,
  permissionRequest: null as Parameters<Electron.Session['setPermissionRequestHandler']>[0],
  permissionCheck: null as Parameters<Electron.Session['setPermissionCheckHandler']>[0],
  device: null as Parameters<Electron.Session['setDevicePermissionHandler']>[0],
  isReady: false,
  lock: true,
};

export class FakeProcess extends EventEmitter {
  posted: ToService[] = [];
  killed = false;
  postMessage(message: ToService): void {
    this.posted.push(structuredClone(message));
  }
  say(message: FromService): void {
    this.emit('message', structuredClone(message));
  }
  kill(): boolean {
    this.killed = true;
    return true;
  }
}

export class FakeContents extends EventEmitter {
  sent: [string, unknown][] = [];
  openHandler: ((details: { url: string }) => { action: string }) | null = null;
  url = '';
  mainFrame: { url: string; parent: unknown } = { url: '', parent: null };
  send(channel: string, message: unknown): void {
    this.sent.push([channel, structuredClone(message)]);
  }
  setWindowOpenHandler(handler: (details: { url: string }) => { action: string }): void {
    this.openHandler = handler;
  }
  getURL(): string {
    return this.url;
  }
  startDrag(item: Electron.Item): void {
    record.drags.push(item);
  }
}

export class FakeWindow extends EventEmitter {
  options: Electron.BrowserWindowConstructorOptions;
  webContents = new FakeContents();
  shown = false;
  minimized = false;
  reloads = 0;
  loaded: string[] = [];
  constructor(options: Electron.BrowserWindowConstructorOptions) {
    super();
    this.options = options;
    record.windows.push(this);
    app.emit('web-contents-created', {}, this.webContents);
  }
  async loadURL(url: string): Promise<void> {
    this.loaded.push(url);
    this.webContents.url = url;
    this.webContents.mainFrame.url = url;
  }
  show(): void {
    this.shown = true;
  }
  maximize(): void {}
  isMaximized = () => false;
  isMinimized = () => this.minimized;
  isDestroyed = () => false;
  restore(): void {
    this.minimized = false;
  }
  focus(): void {
    record.focused++;
  }
  reload(): void {
    this.reloads++;
  }
  getNormalBounds = () => ({ x: 5, y: 6, width: 1000, height: 700 });
}

class FakeApp extends EventEmitter {
  isPackaged = false;
  commandLine = { hasSwitch: (_name: string) => false };
  private ready = Promise.withResolvers<void>();
  setPath(name: string, path: string): void {
    if (!existsSync(path)) throw new Error('setPath takes a folder that exists');
    record.paths[name] = path;
  }
  enableSandbox(): void {
    record.sandboxed = true;
  }
  requestSingleInstanceLock = () => record.lock;
  addRecentDocument(path: string): void {
    record.recent.push(path);
  }
  getFileIcon = async (path: string) => ({ iconOf: path });
  whenReady = () => this.ready.promise;
  becomeReady(): void {
    record.isReady = true;
    this.ready.resolve();
  }
  quit(): void {
    record.quits++;
    let prevented = false;
    this.emit('will-quit', {
      preventDefault() {
        prevented = true;
      },
    });
    if (!prevented) this.emit('gone');
  }
}

export const app = new FakeApp();
export { FakeWindow as BrowserWindow };

export const protocol = {
  registerSchemesAsPrivileged(schemes: Electron.CustomScheme[]): void {
    if (record.isReady) throw new Error('registerSchemesAsPrivileged must come before ready');
    record.privileges.push(...schemes);
  },
};

class FakeSession extends EventEmitter {
  protocol = {
    handle(scheme: string, handler: (request: Request) => Response | Promise<Response>): void {
      record.schemes.set(scheme, handler);
    },
  };
  webRequest = {
    onBeforeRequest(listener: NonNullable<typeof record.beforeRequest>): void {
      record.beforeRequest = listener;
    },
  };
  setPermissionRequestHandler(handler: typeof record.permissionRequest): void {
    record.permissionRequest = handler;
  }
  setPermissionCheckHandler(handler: typeof record.permissionCheck): void {
    record.permissionCheck = handler;
  }
  setDevicePermissionHandler(handler: typeof record.device): void {
    record.device = handler;
  }
}
export const session = { defaultSession: new FakeSession() };

export const ipcMain = {
  on(channel: string, listener: (event: unknown, ...rest: unknown[]) => void): void {
    record.lines.set(channel, listener);
  },
  handle(channel: string, handler: (event: unknown, ...rest: unknown[]) => unknown): void {
    if (record.ipc.has(channel)) throw new Error(`a second handler for ${channel}`);
    record.ipc.set(channel, handler);
  },
};

export const utilityProcess = {
  fork(module: string): FakeProcess {
    if (!record.isReady) throw new Error('fork must come after ready');
    const process = new FakeProcess();
    record.forks.push({ module, process });
    return process;
  },
};

export const dialog = {
  async showOpenDialog(_window: unknown, options: Electron.OpenDialogOptions) {
    record.dialogs.push(options);
    return { canceled: record.picked.length === 0, filePaths: [...record.picked] };
  },
  showErrorBox(title: string): void {
    record.errorBoxes.push(title);
  },
};

export const Menu = {
  buildFromTemplate: (template: Electron.MenuItemConstructorOptions[]) => template,
  setApplicationMenu(template: Electron.MenuItemConstructorOptions[]): void {
    record.menu = template;
  },
};

export const screen = {
  getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }],
};
