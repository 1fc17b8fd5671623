// At the stove: the steps of a dish one at a time, large, with what each takes. All of it stands
// on the page too, for whom no script runs; of the page itself nothing is changed.
'use strict'

const stove = document.querySelector('.stove')
const steps = [...document.querySelectorAll('.cook .step')]
const own = `stove ${location.pathname}`
/** Milliseconds after which ticks and timers are of another time of cooking: a dish may take three
 * days from its soaking to its supper. */
const FORGOTTEN = 3 * 24 * 60 * 60 * 1000

/** Where the cook is, what is done, and when which timer ends, as long as it is the same meal. */
const kept = (() => {
  const found = JSON.parse(memory.get(own) ?? '{}')
  return Date.now() - (found.since ?? 0) < FORGOTTEN ? found : { at: 0, done: [], timers: {} }
})()
const remember = () => {
  kept.since = Date.now()
  memory.set(own, JSON.stringify(kept))
}

const [title, now, timers] = ['.stove-title', '.stove-now', '.stove-timers'].map((each) => stove.querySelector(each))
const [back, done, on] = ['.stove-back', '.stove-done input', '.stove-on'].map((each) => stove.querySelector(each))
const says = stove.dataset

/** A caution as a badge with its name, which opens; one without a name stands as it is. */
function badge(caution) {
  const name = caution.querySelector('strong')
  if (!name) return caution
  const [details, summary] = ['details', 'summary'].map((each) => document.createElement(each))
  const icon = caution.querySelector('svg')
  summary.append(icon, ' ', name)
  details.append(summary, caution)
  return details
}

/** What a step holds, the instruction first, with nothing in it that leads away. */
function shown(step) {
  const copy = step.cloneNode(true)
  for (const each of copy.querySelectorAll('[id]')) each.removeAttribute('id')
  for (const word of copy.querySelectorAll('a.word')) word.replaceWith(...word.childNodes)
  const [told, dangers] = [copy.querySelector('.do > div:not(.cautions)'), copy.querySelector('.cautions')]
  const [instruction, ...rest] = told.children
  instruction.className = 'stove-do'
  const badges = document.createElement('div')
  badges.className = 'stove-dangers'
  badges.append(...[...dangers?.children ?? []].map(badge))
  const found = [instruction, badges, copy.querySelector('.needs'), copy.querySelector('.facts'), ...rest]
  return found.filter((each) => each?.hasChildNodes())
}

function show(index) {
  kept.at = Math.max(0, Math.min(index, steps.length - 1))
  remember()
  title.textContent = says.step.replace('@', kept.at + 1).replace('%', steps.length)
  now.replaceChildren(...shown(steps[kept.at]))
  now.scrollTop = 0
  done.checked = kept.done.includes(kept.at)
  back.disabled = kept.at === 0
  on.disabled = kept.at === steps.length - 1
  tick()
  title.focus()
}

/** Every timer that runs, of whichever step, and one to start for each time of this one. */
let rows = ''
function tick() {
  const running = Object.entries(kept.timers)
  const ready = (steps[kept.at].dataset.minutes ?? '').split(' ').filter(Boolean)
  const state = JSON.stringify([kept.at, running])
  if (rows !== state) {
    rows = state
    timers.replaceChildren(
      ...running.map(([name]) => row(name)),
      ...ready.filter((minutes) => !(`${kept.at} ${minutes}` in kept.timers)).map((minutes) =>
        button(says.start.replace('@', minutes), () => {
          kept.timers[`${kept.at} ${minutes}`] = Date.now() + minutes * 60000
          sound ??= new AudioContext()
        })),
    )
  }
  for (const each of timers.querySelectorAll('[data-timer]')) {
    const left = Math.ceil((kept.timers[each.dataset.timer] - Date.now()) / 1000)
    const [output] = each.children
    const number = says.step.replace('@', Number(each.dataset.timer.split(' ')[0]) + 1).replace('%', steps.length)
    const clock = `${Math.floor(left / 60)}:${String(left % 60).padStart(2, '0')}`
    const text = left > 0 ? `${number}: ${clock}` : `${number}: ${says.up}`
    if (output.textContent !== text) output.textContent = text
    // Said once, aloud too where the page may; a number that counts down isn't read out.
    if (left <= 0 && !each.classList.contains('up')) {
      each.classList.add('up')
      output.setAttribute('role', 'alert')
      ring()
    }
  }
}

function row(name) {
  const [each, output] = ['p', 'span'].map((kind) => document.createElement(kind))
  each.dataset.timer = name
  each.append(output, ' ', button(says.stop, () => { delete kept.timers[name] }))
  return each
}

function button(text, press) {
  const found = document.createElement('button')
  found.type = 'button'
  found.textContent = text
  found.addEventListener('click', () => { press(); remember(); tick() })
  return found
}

let sound
function ring() {
  navigator.vibrate?.([400, 200, 400])
  if (!sound) return
  for (const at of [0, 0.5, 1]) {
    const tone = sound.createOscillator()
    tone.connect(sound.destination)
    tone.start(sound.currentTime + at)
    tone.stop(sound.currentTime + at + 0.3)
  }
}

// The screen stays awake while somebody cooks. A screen that was locked gives that up, and the
// timers go by when they end, not by how often they were counted.
let awake
async function stayAwake() {
  if (!stove.open || document.visibilityState !== 'visible') return
  awake = await navigator.wakeLock?.request('screen').catch(() => undefined)
  tick()
}
document.addEventListener('visibilitychange', stayAwake)
setInterval(() => { if (stove.open || Object.keys(kept.timers).length) tick() }, 500)

if (steps.length) {
  const open = document.querySelector('.to-stove')
  open.hidden = false
  open.querySelector('button').addEventListener('click', () => {
    stove.showModal()
    show(kept.at)
    stayAwake()
  })
}
stove.querySelector('.stove-close').addEventListener('click', () => stove.close())
stove.addEventListener('close', () => awake?.release())
back.addEventListener('click', () => show(kept.at - 1))
on.addEventListener('click', () => show(kept.at + 1))
done.addEventListener('change', () => {
  kept.done = kept.done.filter((each) => each !== kept.at)
  if (done.checked) kept.done.push(kept.at)
  remember()
})

const forward = document.documentElement.dir === 'rtl' ? -1 : 1
stove.addEventListener('keydown', (event) => {
  const way = { ArrowRight: forward, ArrowLeft: -forward, PageDown: 1, PageUp: -1 }[event.key]
  if (!way || event.altKey || event.ctrlKey || event.metaKey) return
  event.preventDefault()
  show(kept.at + way)
})
let from
stove.addEventListener('touchstart', (event) => {
  from = event.touches.length === 1 ? event.touches[0] : undefined
}, { passive: true })
stove.addEventListener('touchend', (event) => {
  const to = event.changedTouches[0]
  const [across, down] = from ? [to.clientX - from.clientX, to.clientY - from.clientY] : [0, 0]
  // A finger that scrolls isn't one that turns the page.
  if (Math.abs(across) > 60 && Math.abs(across) > 2 * Math.abs(down)) show(kept.at - Math.sign(across) * forward)
}, { passive: true })
