// Opens pages in a real browser and prints what a person would stumble over, as JSON.
// Usage: node audit.mjs CHROMIUM PAGE.html ...
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'
import puppeteer from 'puppeteer-core'

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']
// 1280 pixels at 400 % leave 320 (WCAG 2.2, SC 1.4.10).
const views = [['light', 1280], ['dark', 320]]

const [executablePath, ...files] = process.argv.slice(2)
const browser = await puppeteer.launch({
  executablePath,
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
})
const report = []
for (const file of files) {
  const page = await browser.newPage()
  // Whoever presses Tab has the page before them. A browser that no window manager looks after
  // may take that away between two keys, and then draws no focus.
  await page.emulateFocusedPage(true)
  const found = { file, broken: [], foreign: [], violations: [], sideways: [], small: [], axe: 0 }
  page.on('console', (message) => {
    if (['error', 'warn'].includes(message.type())) found.broken.push(message.text())
  })
  page.on('pageerror', (error) => found.broken.push(String(error)))
  page.on('request', (request) => {
    if (!/^(file|data):/.test(request.url())) found.foreign.push(request.url())
  })
  page.on('requestfailed', (request) => found.broken.push(`not loaded: ${request.url()}`))
  for (const [scheme, width] of views) {
    await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: scheme }])
    await page.setViewport({ width, height: 800 })
    await page.goto(pathToFileURL(file).href)
    await page.evaluate(() => document.fonts.ready)
    await page.evaluate(axe)
    // What opens is looked at open. Of what is right only the number is asked: the rest takes time.
    const result = await page.evaluate((tags) => {
      for (const each of document.querySelectorAll('details')) each.open = true
      // Eleven of twelve sizes are shown to nobody, and would take most of the time.
      for (const each of document.querySelectorAll('.size')) if (!each.checkVisibility()) each.remove()
      return window.axe.run({ runOnly: tags, preload: false, resultTypes: ['violations'] })
    }, rules)
    found.axe += result.passes.length
    for (const { id, nodes } of result.violations) {
      for (const { html } of nodes) found.violations.push(`${scheme} ${width} ${id}: ${html}`)
    }
    const seen = await page.evaluate(() => {
      const wide = document.documentElement.scrollWidth - window.innerWidth
      // A link inside a sentence may be as low as its line (SC 2.5.8, exception "Inline").
      const pressed = 'a, button, summary, select, .switch input, .filters label'
      const alone = [...document.querySelectorAll(pressed)].filter(
        (each) => !each.closest('p, dd, .word, .hidden') && each.getClientRects().length,
      )
      const small = alone.filter((each) => {
        const box = each.getBoundingClientRect()
        return box.height < 44 || box.width < 24
      })
      return { wide, alone: alone.length, small: small.map((each) => each.outerHTML) }
    })
    if (seen.wide > 0) found.sideways.push(`${width}: ${seen.wide} pixels too wide`)
    if (!seen.alone) found.broken.push('nothing to press was measured')
    found.small.push(...seen.small)
  }
  found.keyboard = await keyboard(page)
  found.switch = await household(page)
  report.push(found)
  await page.close()
}
await browser.close()
console.log(JSON.stringify(report))

/** Walks through the page with Tab alone: what is never reached, and what hides its focus. */
async function keyboard(page) {
  await page.setViewport({ width: 1280, height: 800 })
  await page.reload()
  await page.evaluate(() => document.fonts.ready)
  const wanted = await page.evaluate(() => {
    const all = [...document.querySelectorAll('a[href], button, summary, .switch input:checked, [tabindex="0"]')]
      .filter((each) => each.checkVisibility())
    all.forEach((each, index) => each.setAttribute('data-stop', index))
    return all.length
  })
  const reached = new Set()
  const unseen = []
  for (let at = 0; at <= wanted + 1; at++) {
    await page.keyboard.press('Tab')
    const stop = await page.evaluate(() => {
      const here = document.activeElement
      const drawn = here.matches('.switch input') ? here.nextElementSibling : here
      const style = getComputedStyle(drawn)
      const { top, bottom } = drawn.getBoundingClientRect()
      const shown = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2
      const inView = bottom > 0 && top < window.innerHeight
      const where = `${style.outline}, from ${top} to ${bottom}`
      return { stop: here.dataset.stop, seen: shown && inView, html: `${here.outerHTML} (${where})` }
    })
    if (stop.stop === undefined) continue
    reached.add(stop.stop)
    if (!stop.seen) unseen.push(stop.html)
  }
  return { wanted, reached: reached.size, unseen }
}

/** Goes through the household sizes with an arrow key; after each, the sizes that show. */
async function household(page) {
  const count = await page.$$eval('.household input', (all) => all.length)
  if (!count) return null
  await page.focus('.household input:checked')
  const shown = []
  for (let at = 0; at < count; at++) {
    shown.push(await page.evaluate(() => {
      const sizes = [...document.querySelectorAll('.size')].filter((each) => each.checkVisibility())
      return {
        chosen: document.querySelector('.household input:checked').value,
        shown: [...new Set(sizes.map((each) => each.dataset.size))],
        all: document.querySelectorAll('.size').length,
        text: document.querySelector('.ingredients').innerText,
      }
    }))
    await page.keyboard.press('ArrowRight')
  }
  return shown
}
