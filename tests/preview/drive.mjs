// A real browser that does one thing a line, told as JSON, and answers as JSON.
// Usage, in the folder that has node_modules: node drive.mjs CHROMIUM
//   {"open": ADDRESS}      {"wait": EXPRESSION}      {"get": EXPRESSION}      {"picture": FILE}
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { setTimeout as pause } from 'node:timers/promises'
import { pathToFileURL } from 'node:url'

const PATIENCE = 60_000 // milliseconds that a busy machine is given
const find = createRequire(join(process.cwd(), 'package.json'))
const { default: puppeteer } = await import(pathToFileURL(find.resolve('puppeteer-core')))
const browser = await puppeteer.launch({
  executablePath: process.argv[2],
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
})
const page = await browser.newPage()
await page.setViewport({ width: 1100, height: 800 })
const broken = []
page.on('pageerror', (error) => broken.push(String(error)))
page.on('console', (message) => {
  if (message.type() === 'error') broken.push(`${message.text()} ${message.location().url}`)
})

/** Asks until it is true. Between two pages there is nothing to ask of, and asking throws: that
 * means not yet, and is told only where it goes on to the end. */
async function until(expression) {
  const end = Date.now() + PATIENCE
  let why
  do {
    try {
      if (await page.evaluate(expression)) return
      why = 'false'
    } catch (error) {
      why = error
    }
    await pause(50)
  } while (Date.now() < end)
  throw new Error(`not true in ${PATIENCE} ms, at last: ${why}`)
}

for await (const line of createInterface({ input: process.stdin })) {
  const asked = JSON.parse(line)
  let answer = null
  try {
    if (asked.open) await page.goto(asked.open)
    if (asked.wait) await until(asked.wait)
    if (asked.get) answer = (await page.evaluate(asked.get)) ?? null
    if (asked.picture) await page.screenshot({ path: asked.picture })
    console.log(JSON.stringify({ answer, broken }))
  } catch (error) {
    console.log(JSON.stringify({ failed: String(error), broken }))
  }
}
await browser.close()
