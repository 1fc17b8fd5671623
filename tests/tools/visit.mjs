// Visits a site as a family would and prints what it saw, as JSON.
// Usage: node visit.mjs CHROMIUM SITE-FOLDER HTTPS-ADDRESS RECIPE
// The address serves the same folder, which is a copy to bend, until its page /gone is asked for;
// then nothing any more. What it was asked for stands in its page /asked.
import { createHash } from 'node:crypto'
import { readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import puppeteer from 'puppeteer-core'

const [executablePath, folder, address, recipe] = process.argv.slice(2)
const browser = await puppeteer.launch({
  executablePath,
  acceptInsecureCerts: true,
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--ignore-certificate-errors'],
})
const report = { console: [] }
const top = pathToFileURL(`${folder}/`).href

async function opened(url, javascript = true) {
  const page = await browser.newPage()
  page.on('console', (message) => {
    // A browser asks every server for an icon, whether a page names one or not.
    if (message.location().url?.endsWith('/favicon.ico')) return
    if (['error', 'warn'].includes(message.type())) report.console.push(`${url}: ${message.text()}`)
  })
  page.on('pageerror', (error) => report.console.push(`${url}: ${error}`))
  await page.setJavaScriptEnabled(javascript)
  await page.goto(url)
  return page
}

/** The dishes that show, what is said of them, what the address says. */
const dishes = (page) => page.evaluate(() => ({
  shown: [...new Set([...document.querySelectorAll('[data-dish]')]
    .filter((each) => each.checkVisibility()).map((each) => each.querySelector('h3').innerText))],
  meetings: [...document.querySelectorAll('.setting > li')].filter((each) => each.checkVisibility()).length,
  conditions: [...document.querySelectorAll('.condition')].filter((each) => each.checkVisibility())
    .map((each) => each.textContent),
  said: document.querySelector('.filters output')?.textContent,
  open: document.querySelector('.filters')?.open,
  hash: location.hash,
}))

/** What a recipe shows of its amounts. */
const amounts = (page) => page.evaluate(() => ({
  ingredients: [...document.querySelectorAll('.ingredients')].map((each) => each.innerText).join('\n'),
  strips: [...document.querySelectorAll('.scoops')].filter((each) => each.checkVisibility()).length,
  heat: [...document.querySelectorAll('.recipe .facts')].map((each) => each.innerText).join('\n'),
  needs: [...document.querySelectorAll('.needs')].map((each) => each.innerText).join('\n'),
}))

// From the disk, with the script.
let page = await opened(`${top}index.html`)
report.all = await dishes(page)
await page.evaluate(() => { document.querySelector('.filters').open = true })
await page.click('[name=without][value=egg]')
report.without = await dishes(page)
await page.select('[name=minutes]', '30')
report.quick = await dishes(page)
const narrowed = page.url()
await page.reload()
report.again = await dishes(page)
await page.click('[name=without][value=egg]')
await page.select('[name=minutes]', '')
await page.click('[name=without][value=gluten]')
report.gluten = await dishes(page)
await page.click('[name=without][value=wheat]')
report.wheat = await dishes(page)
await page.click('.filters button')
report.back = await dishes(page)
await page.close()
page = await opened(`${narrowed.split('#')[0]}#main`)
report.elsewhere = await dishes(page)
await page.close()

/** A page on another day: the reader's, not the build's. */
const on = (page, day) => page.evaluateOnNewDocument((day) => {
  const Real = Date
  globalThis.Date = class extends Real {
    constructor(...given) { super(...(given.length ? given : [`${day}T12:00:00`])) }
  }
}, day)
report.meetings = {}
for (const day of ['2027-09-01', '2027-10-23', '2027-10-24', '2028-01-01']) {
  page = await opened('about:blank')
  await on(page, day)
  await page.goto(`${top}index.html`)
  report.meetings[day] = await page.evaluate(() => Object.fromEntries(['ahead', 'before'].map((name) => {
    const section = document.querySelector(`.${name}`)
    return [name, section.checkVisibility() ? section.innerText : '']
  })))
  await page.close()
}

// Without it.
page = await opened(narrowed, false)
report.scriptless = await dishes(page)
report.toStove = await page.goto(`${top}recipes/${recipe}.html`).then(() => page.evaluate(
  () => document.querySelector('.to-stove').checkVisibility() || document.querySelector('.stove').checkVisibility()))
await page.goto(narrowed)
report.ahead = await page.evaluate(() => document.querySelector('.ahead').checkVisibility())
report.filters = await page.evaluate(() => document.querySelector('.filters').checkVisibility())
await page.close()
page = await opened(`${top}recipes/${recipe}.html`, false)
report.usual = await amounts(page)
await page.click('[name=household][value="7"]')
report.seven = await amounts(page)
await page.click('[name=measures][value=metric]')
report.metric = await amounts(page)
await page.emulateMediaType('print')
report.printed = await amounts(page)
report.answers = await page.evaluate(() => [...document.querySelectorAll('.switch label')]
  .filter((each) => each.checkVisibility()).map((each) => each.innerText))
await page.close()

// At the stove: another size is chosen before, and nothing of the page changes by it.
page = await opened(`${top}recipes/${recipe}.html`)
await page.setViewport({ width: 360, height: 740, hasTouch: true })
await page.click('[name=household][value="7"]')
const pressed = await page.evaluate(() => location.href + [...document.querySelectorAll('main input:checked')].map((each) => each.value))
await page.click('.to-stove button')
const atStove = () => page.evaluate(() => {
  const stove = document.querySelector('.stove')
  const shown = [...stove.querySelectorAll('button, .stove-done, summary')].filter((each) => each.checkVisibility())
  return {
    open: stove.open,
    title: stove.querySelector('.stove-title').textContent,
    first: stove.querySelector('.stove-now').firstElementChild.innerText,
    needs: stove.querySelector('.stove-now .needs')?.innerText ?? '',
    dangers: [...stove.querySelectorAll('.stove-dangers summary')].map((each) => each.innerText),
    timers: [...stove.querySelectorAll('.stove-timers p span')].map((each) => each.textContent),
    done: stove.querySelector('.stove-done input').checked,
    smallest: Math.min(...shown.map((each) => each.getBoundingClientRect().height)),
    sideways: stove.querySelector('.stove-now').scrollWidth > innerWidth,
  }
})
report.stove = { first: await atStove() }
await page.keyboard.press('ArrowRight')
report.stove.second = await atStove()
await page.click('.stove-done input')
await page.evaluate(() => document.querySelector('.stove-timers button').click())
report.stove.timed = await atStove()
const finger = await page.touchscreen.touchStart(300, 300)
await finger.move(100, 310)
await finger.end()
report.stove.third = await atStove()
const seenAt = [report.stove.third]
for (let at = 0; at < 20 && await page.$('.stove-on:enabled'); at++) {
  await page.click('.stove-on')
  seenAt.push(await atStove())
}
report.stove.all = [report.stove.first, report.stove.second, ...seenAt]
await page.keyboard.press('Escape')
report.stove.closed = (await page.evaluate(() => document.querySelector('.stove').open)) === false
report.stove.same = pressed === await page.evaluate(() => location.href + [...document.querySelectorAll('main input:checked')].map((each) => each.value))
report.stove.steps = await page.$$eval('.cook .step .do > div:first-child > p:first-child', (all) => all.map((each) => each.innerText))
// A timer that ended while the page was away is over when it is back.
await page.evaluate(() => {
  const name = `spoonfold stove ${location.pathname}`
  const kept = JSON.parse(localStorage.getItem(name))
  for (const each of Object.keys(kept.timers)) kept.timers[each] = Date.now() - 1000
  localStorage.setItem(name, JSON.stringify({ ...kept, at: 1 }))
})
await page.reload()
await page.click('.to-stove button')
report.stove.again = await atStove()
await page.close()

// What was chosen is remembered from one dish to the next.
page = await opened(`${top}recipes/${recipe}.html`)
await page.click('[name=household][value="5"]')
await page.click('[name=measures][value=metric]')
await page.close()
page = await opened(`${top}recipes/${recipe}.html`)
report.remembered = await page.evaluate(
  () => [...document.querySelectorAll('.switch input:checked')].map((each) => each.value))
report.kept = await page.evaluate(async () => (await navigator.serviceWorker?.getRegistrations?.().catch(() => []))?.length ?? 0)
await page.close()

// Over HTTPS, before the season: the dish of the first meeting is the next one.
const [first, read, unopened] = ['rice-paper-rolls', recipe, 'jollof-rice']
const pageOf = (name) => `recipes/${name}.html`
async function visit(name) {
  await page.goto(`${address}/${name}`)
  return page.evaluate(() => ({
    text: document.querySelector('h1')?.innerText,
    kept: document.querySelector('.kept')?.checkVisibility(),
    since: document.querySelector('.loaded')?.textContent,
  }))
}
const kept = () => page.evaluate(async () => {
  const found = []
  for (const name of await caches.keys()) {
    for (const each of await (await caches.open(name)).keys()) found.push(new URL(each.url).pathname)
  }
  return found
})
async function until(done) {
  for (let at = 0; at < 200 && !await done(); at++) await new Promise((later) => setTimeout(later, 50))
}
/** Another text in a file of the server, as if it were a minute younger than the last one. */
let hour = Date.now() / 1000 - 3600
function change(name, told) {
  const file = `${folder}/${name}`
  writeFileSync(file, told(readFileSync(file, 'utf8')))
  hour += 60
  utimesSync(file, hour, hour)
}
const mend = (name) => change(name, (text) => text.replace('<h1>', '<h1>Mended: '))
page = await opened('about:blank')
await on(page, '2027-09-17')
await page.goto(`${address}/fonts/OFL-Literata.txt`)
await page.evaluate(async (scope) => {
  await caches.open(`spoonfold ${scope}/ before`)
  await caches.open('somebody else')
}, address)
await page.goto(`${address}/season.html`)
await page.evaluate(async () => {
  await navigator.serviceWorker.ready
  while (!navigator.serviceWorker.controller) await new Promise((done) => setTimeout(done, 50))
})
await until(async () => (await kept()).includes(`/es/${pageOf(first)}`))
report.caches = await page.evaluate(() => caches.keys())
report.files = await kept()

// A page is mended and one is withdrawn after both were opened.
await visit(pageOf(read))
await visit('words.html')
mend(pageOf(read))
report.mended = await visit(pageOf(read))
rmSync(`${folder}/words.html`)
report.withdrawn = (await page.goto(`${address}/words.html`)).status()
report.withdrawnKept = (await kept()).includes('/words.html')

// A new build changes a page that is kept, and another of its files can't be had.
await visit('season.html')
mend(pageOf(first))
rmSync(`${folder}/es/ingredients.html`)
change('worker.js', (text) => text.replace(/VERSION = "\w+"/, 'VERSION = "other"')
  .replace(/^"(.+\.html)": "\w+"/gm, (line, name) => {
    const data = name.endsWith('es/ingredients.html') ? 'gone' : readFileSync(`${folder}/${name}`)
    return `"${name}": "${createHash('sha256').update(data).digest('hex').slice(0, 16)}"`
  }))
await page.goto(`${address}/asked`)
await visit('season.html')
await page.evaluate(async () => { await (await navigator.serviceWorker.ready).update() })
await until(async () => page.evaluate(async (name) =>
  (await (await caches.match(new URL(name, location.href)))?.text())?.includes('Mended: '), pageOf(first)))
report.asked = JSON.parse(await page.goto(`${address}/asked`).then((found) => found.text()))

await page.goto(`${address}/fonts/OFL-Andika.txt`)
await page.goto(`${address}/gone`)
report.offline = {}
for (const name of ['', 'index.html#without=egg', `${pageOf(read)}?x=1`, pageOf(first), `es/${pageOf(first)}`,
  'season.html']) {
  report.offline[name] = await visit(name).catch((error) => String(error.message).split(' at ')[0])
}
report.unopened = await visit(pageOf(unopened)).catch((error) => String(error.message).split(' at ')[0])
report.letters = await page.goto(`${address}/index.html`).then(() => page.evaluate(async () => {
  await document.fonts.ready
  return [...document.fonts].filter((each) => each.status === 'loaded').map((each) => each.family)
}))
await browser.close()
console.log(JSON.stringify(report))
