// Visits a site as a family would and prints what it saw, as JSON.
// Usage: node visit.mjs CHROMIUM SITE-FOLDER HTTPS-ADDRESS RECIPE
// The address serves the same folder until its page /gone is asked for; then nothing any more.
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
  said: document.querySelector('.filters output')?.textContent,
  open: document.querySelector('.filters')?.open,
  hash: location.hash,
}))

/** What a recipe shows of its amounts. */
const amounts = (page) => page.evaluate(() => ({
  ingredients: [...document.querySelectorAll('.ingredients')].map((each) => each.innerText).join('\n'),
  strips: [...document.querySelectorAll('.scoops')].filter((each) => each.checkVisibility()).length,
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
await page.click('.filters button')
report.back = await dishes(page)
await page.close()
page = await opened(`${narrowed.split('#')[0]}#main`)
report.elsewhere = await dishes(page)
await page.close()

// Without it.
page = await opened(narrowed, false)
report.scriptless = await dishes(page)
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

// Over HTTPS, then without a net.
page = await opened(`${address}/season.html`)
await page.evaluate(async (scope) => {
  await caches.open(`spoonfold ${scope}/ before`)
  await caches.open('somebody else')
}, address)
await page.evaluate(async () => {
  await navigator.serviceWorker.ready
  while (!navigator.serviceWorker.controller) await new Promise((done) => setTimeout(done, 50))
})
report.caches = await page.evaluate(async () => {
  for (let at = 0; at < 1000 && (await caches.keys()).some((each) => each.endsWith(' before')); at++) {
    await new Promise((done) => setTimeout(done, 50))
  }
  return caches.keys()
})
report.files = await page.evaluate(async () => {
  const found = []
  for (const name of await caches.keys()) {
    for (const each of await (await caches.open(name)).keys()) found.push(new URL(each.url).pathname)
  }
  return found
})
await page.goto(`${address}/fonts/OFL-Andika.txt`)
await page.goto(`${address}/gone`)
report.offline = {}
for (const name of ['', 'index.html#without=egg', 'words.html', `recipes/${recipe}.html?x=1`, `es/recipes/${recipe}.html`,
  'fonts/OFL-Andika.txt', 'fonts/OFL-Literata.txt']) {
  report.offline[name] = await page.goto(`${address}/${name}`)
    .then(async (found) => `${found.status()} ${(await page.evaluate(() => document.body.innerText.length)) > 200}`)
    .catch((error) => String(error.message).split(' at ')[0])
}
report.letters = await page.goto(`${address}/index.html`).then(() => page.evaluate(async () => {
  await document.fonts.ready
  return [...document.fonts].filter((each) => each.status === 'loaded').map((each) => each.family)
}))
await browser.close()
console.log(JSON.stringify(report))
