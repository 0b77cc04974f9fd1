import { connect } from 'node:net';

export interface RawAnswer {
  status: number;
  head: string;
  body: string;
}

/** Writes bytes to a port of 127.0.0.1 as they are, and reads one whole answer, or until the other side ends or falls silent. */
export function rawHttp(port: number, text: string | Uint8Array, silence = 400): Promise<RawAnswer> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(text));
    let got = '';
    const done = () => {
      socket.destroy();
      const [head = '', ...rest] = got.split('\r\n\r\n');
      resolve({ status: Number(head.split(' ')[1] ?? 0), head, body: rest.join('\r\n\r\n') });
    };
    socket.setTimeout(silence, done);
    socket.setEncoding('utf8').on('data', (chunk: string) => {
      got += chunk;
      const length = /content-length: (\d+)/i.exec(got);
      const start = got.indexOf('\r\n\r\n') + 4;
      if (length && start >= 4 && Buffer.byteLength(got.slice(start)) >= Number(length[1])) done();
    });
    socket.on('end', done);
    socket.on('error', (error) => (got === '' ? reject(error) : done()));
  });
}
