// Keeps what was opened, and what the next meeting cooks, for when there is no net. What the net
// has is shown first: an allergen that was mended must not wait. Above this stand VERSION, FILES
// (whose digests are known) and MEETINGS, the site's own.
'use strict'

const OURS = `spoonfold ${self.registration.scope} `
const CACHE = `${OURS}kept`
/** Milliseconds after which what is kept is shown while the net is still thinking. */
const PATIENCE = 5000
const address = (file) => new URL(file, self.registration.scope).href

/** A page by its own address, whatever was asked of it or in it. */
function plain(url) {
  const found = new URL(url)
  found.search = found.hash = ''
  return found.pathname.endsWith('/') ? `${found.href}index.html` : found.href
}

async function digestOf(answer) {
  const bytes = await crypto.subtle.digest('SHA-256', await answer.arrayBuffer())
  return [...new Uint8Array(bytes)].map((each) => each.toString(16).padStart(2, '0')).join('').slice(0, 16)
}

/** Puts away what the net answered; what is no longer there is no longer kept. */
async function put(cache, url, answer) {
  if (answer.status === 404 || answer.status === 410) await cache.delete(url)
  // A full disk is no reason to show nothing.
  if (answer.status === 200 && !answer.redirected) await cache.put(url, answer).catch(() => {})
}

/** Asks for one file, unless just that is kept; where it can't be had the others still are. */
async function keep(cache, url, digest) {
  try {
    const kept = await cache.match(url)
    if (kept && digest && await digestOf(kept) === digest) return
    // The server is asked whether anything has changed, past the browser's own store.
    await put(cache, url, await fetch(url, { cache: 'no-cache' }))
  } catch { /* It is asked for again with the next page. */ }
}

/** What is kept already, made as new as the site: after a change of one file, that one. */
async function renew() {
  const cache = await caches.open(CACHE)
  const digests = new Map(Object.entries(FILES).map(([file, digest]) => [address(file), digest]))
  const kept = (await cache.keys()).map((request) => request.url)
  await Promise.all(kept.map((url) => keep(cache, url, digests.get(url))))
}

/** A page that was opened before there was a worker, with all it shows, and the next meeting. */
async function keepAhead({ opened, today }) {
  const cache = await caches.open(CACHE)
  const next = MEETINGS.find(([day]) => day >= today)
  const wanted = [...opened.map(plain), ...(next ? next[1] : []).map(address)]
  for (const url of new Set(wanted)) {
    if (url.startsWith(self.registration.scope) && !await cache.match(url)) await keep(cache, url)
  }
}

/** A kept page says that it is one, and since when. */
async function marked(answer) {
  if (!answer.headers.get('content-type')?.startsWith('text/html')) return answer
  const text = await answer.text()
  const language = text.match(/<html lang="([\w-]+)"/)?.[1] ?? 'en'
  const loaded = new Date(answer.headers.get('date') ?? NaN)
  const day = isNaN(loaded) ? '' : loaded.toLocaleDateString(language, { dateStyle: 'long' })
  const shown = text
    .replace('<div class="kept" hidden>', '<div class="kept">')
    .replace(/<div class="kept">.*?<\/strong>/s, (told) => `${told} <b class="loaded">${day}</b>`)
  return new Response(shown, { headers: { 'content-type': 'text/html; charset=utf-8' } })
}

self.addEventListener('install', (event) => {
  event.waitUntil(renew().then(() => self.skipWaiting()))
})

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    const old = (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== CACHE)
    await Promise.all(old.map((name) => caches.delete(name)))
    await self.clients.claim()
  })())
})

self.addEventListener('message', (event) => event.waitUntil(keepAhead(event.data)))

self.addEventListener('fetch', (event) => {
  const { request } = event
  if (request.method !== 'GET' || !request.url.startsWith(self.registration.scope)) return
  // A part of a file is the server's business.
  if (request.headers.has('range')) return
  const asked = (async () => {
    const cache = await caches.open(CACHE)
    const found = await fetch(request, { cache: 'no-cache' })
    event.waitUntil(put(cache, plain(request.url), found.clone()))
    if (found.status >= 500) throw new Error(`the server has ${found.status}`)
    return found
  })()
  event.respondWith((async () => {
    const cache = await caches.open(CACHE)
    const kept = await cache.match(plain(request.url))
    if (!kept) return asked.catch(() => fetch(request))
    const late = new Promise((done) => setTimeout(done, PATIENCE))
    return await Promise.race([asked.catch(() => undefined), late]) ?? marked(kept)
  })())
  event.waitUntil(asked.catch(() => {}))
})
