// Keeps the site for when there is no net. Above this stand VERSION and FILES, the site's own.
'use strict'

const OURS = `spoonfold ${self.registration.scope} `
const CACHE = OURS + VERSION
const address = (file) => new URL(file, self.registration.scope).href

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE)
    // Past the browser's own store, which may still hold what was there before.
    await cache.addAll(FILES.map((file) => new Request(address(file), { cache: 'reload' })))
    // A page that was mended, an allergen above all, is shown as soon as it is there.
    await self.skipWaiting()
  })())
})

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    const old = (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== CACHE)
    await Promise.all(old.map((name) => caches.delete(name)))
    await self.clients.claim()
  })())
})

self.addEventListener('fetch', (event) => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || !url.href.startsWith(self.registration.scope)) return
  url.search = url.hash = ''
  // A part of a file is the server's business.
  if (request.headers.has('range')) return
  event.respondWith((async () => {
    const cache = await caches.open(CACHE)
    const wanted = url.pathname.endsWith('/') ? `${url.href}index.html` : url.href
    const kept = await cache.match(wanted)
    if (kept) return kept
    // What is large, such as a booklet, is kept when somebody has asked for it.
    const found = await fetch(request)
    if (found.status === 200 && !found.redirected) {
      // A full disk is no reason to show nothing.
      event.waitUntil(cache.put(wanted, found.clone()).catch(() => {}))
    }
    return found
  })())
})
