/** Entry of Electron's utility process: the service, in a process of its own, behind one message port. */
import { createService } from '../service/service.ts';
import { servePort } from './service-port.ts';
import type { ToService } from './wire.ts';

const { parentPort } = process;
const receive = servePort((message) => parentPort.postMessage(message), createService);
parentPort.on('message', ({ data }) => receive(data as ToService));
