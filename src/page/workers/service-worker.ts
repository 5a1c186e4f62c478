/** Keeps the whole page in the browser once it has been opened, so that it opens without a network. */
declare const KEPT: readonly string[];
declare const VERSION: string;

interface Waiting extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface Fetching extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface ServiceWorkerScope {
  readonly clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(name: 'install' | 'activate', listen: (event: Waiting) => void): void;
  addEventListener(name: 'fetch', listen: (event: Fetching) => void): void;
}

const scope = self as unknown as ServiceWorkerScope;
/** Other pages of the same origin have caches of their own. */
const PREFIX = 'listwright-page-';
const NAME = PREFIX + VERSION;

scope.addEventListener('install', (event) => {
  const keep = async () => {
    const cache = await caches.open(NAME);
    await cache.addAll(KEPT.map((address) => new Request(address, { cache: 'reload' })));
    await scope.skipWaiting();
  };
  event.waitUntil(keep());
});

scope.addEventListener('activate', (event) => {
  const clean = async () => {
    const old = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== NAME);
    for (const name of old) await caches.delete(name);
    await scope.clients.claim();
  };
  event.waitUntil(clean());
});

scope.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== location.origin) return;
  const answer = async () => {
    const cache = await caches.open(NAME);
    return (await cache.match(request, { ignoreSearch: true })) ?? fetch(request);
  };
  event.respondWith(answer());
});
