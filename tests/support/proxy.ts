/** A proxy of TCP that misbehaves when told to: it swallows everything, hangs up, or is not there. */
import { connect, createServer, type AddressInfo, type Socket } from 'node:net';

export interface Proxy {
  /** The target's address, with the proxy in its place. */
  readonly url: string;
  /** Nothing goes through, and nobody is told; `false` hangs up and lets everything through again. */
  freeze(on: boolean): void;
  /** Freezes at the moment when the target sends this, which nobody gets any more. Resolves then. */
  freezeAt(sent: string): Promise<void>;
  hangUp(): void;
  /** Nobody listens here any more. */
  away(): Promise<void>;
  back(): Promise<void>;
  close(): Promise<void>;
}

export async function makeProxy(target: URL): Promise<Proxy> {
  const sockets = new Set<Socket>();
  let frozen = false;
  let awaited: { readonly sent: string; readonly reached: () => void } | undefined;
  const server = createServer((near) => {
    const far = connect(Number(target.port || 5432), target.hostname);
    for (const [from, to] of [[near, far], [far, near]] as const) {
      sockets.add(from);
      from.on('data', (data) => {
        if (from === far && awaited !== undefined && data.includes(awaited.sent)) {
          frozen = true;
          awaited.reached();
          awaited = undefined;
        }
        if (!frozen) to.write(data);
      }).on('error', () => undefined).on('close', () => { sockets.delete(from); to.destroy(); });
    }
  });
  let port = 0;
  const back = async (): Promise<void> => {
    await new Promise<void>((resolve) => server.listen(port, '127.0.0.1', resolve));
    port = (server.address() as AddressInfo).port;
  };
  await back();
  const url = new URL(target);
  url.host = `127.0.0.1:${port}`;
  const hangUp = (): void => { for (const socket of sockets) socket.destroy(); };
  const away = async (): Promise<void> => {
    const closed = new Promise<void>((resolve) => server.close(() => resolve()));
    hangUp();
    await closed;
  };
  return {
    url: url.href, hangUp, away, back,
    freezeAt: (sent) => new Promise((reached) => { awaited = { sent, reached }; }),
    freeze: (on) => { frozen = on; if (!on) hangUp(); },
    close: async () => { if (server.listening) await away(); },
  };
}
