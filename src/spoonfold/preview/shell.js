'use strict'
// Asks how things stand, and shows it. Only the frame is loaded anew, and only when what is in
// it has changed; what the author was looking at stays in view.
const ASK_EVERY = 500 // milliseconds
const HOME = '/site/index.html'
const LOOKED_AT = /^\/(site|families|class)\/[^?#]+/
const get = (id) => document.getElementById(id)
const frame = get('frame')
let state = null
let shown = LOOKED_AT.exec(location.hash.slice(1))?.[0] ?? HOME // in the frame
let revision // of what is in the frame
let kept = null // how the page was, to be put back after it was loaded anew

function make(name, options = {}, ...inside) {
  const made = Object.assign(document.createElement(name), options)
  made.append(...inside)
  return made
}

async function ask() {
  try {
    const answer = await fetch(`/state?${state?.token ?? ''}`)
    if (answer.status === 200) show(await answer.json())
    else if (answer.status !== 204) throw new Error(answer.statusText)
    else if (get('status').className) tellStatus()
  } catch {
    get('status').className = 'gone'
    get('status').textContent = 'The preview has stopped. Start it again: spoonfold preview'
    get('doing').textContent = ''
  }
  setTimeout(ask, ASK_EVERY)
}

function show(next) {
  const last = state
  state = next
  const differs = (...keys) => !last || keys.some(
    (key) => JSON.stringify(last[key]) !== JSON.stringify(next[key]))
  tellStatus()
  if (differs('class')) {
    get('name').textContent = next.class
    document.title = `Preview: ${next.class}`
  }
  if (differs('groups')) listSheets()
  if (differs('trouble')) {
    get('trouble').hidden = !next.trouble.length
    get('trouble').replaceChildren(...next.trouble.map((text) => make('p', {}, text)))
  }
  if (differs('files', 'hasErrors', 'madeAt', 'revisions')) listProblems()
  if (!state.revisions.site) return // nothing was made yet
  if (!frame.src) frame.src = shown
  else if (revisionOf(shown) !== revision) loadAnew()
  revision = revisionOf(shown)
}

// What is being made changes too often to be read aloud; when it was made is.
function tellStatus() {
  get('status').className = ''
  get('status').textContent = state.madeAt ? `Made at ${state.madeAt}.` : ''
  get('doing').textContent = state.doing ? `${state.doing} …` : ''
}

// The pages of the site share one mark; every sheet has its own.
function revisionOf(path) {
  const file = decodeURI(path).slice(1)
  return state.revisions[file] ?? (file.startsWith('site/') ? state.revisions.site : undefined)
}

function loadAnew() {
  try {
    const page = frame.contentDocument
    // A page that was to be loaded anew already isn't as the author left it.
    if (kept?.path !== shown) {
      kept = {
        path: shown,
        top: frame.contentWindow.scrollY,
        left: frame.contentWindow.scrollX,
        chosen: [...page.querySelectorAll('input:checked')].map((each) => [each.name, each.value]),
        open: [...page.querySelectorAll('details')].map((each) => each.open),
      }
    }
    frame.contentWindow.location.reload()
  } catch {
    frame.src = shown // a viewer of sheets may be closed to scripts
  }
}

frame.addEventListener('load', () => {
  if (!frame.src) return
  let page = null
  try {
    const path = frame.contentWindow.location.pathname
    if (LOOKED_AT.test(path)) shown = path
    page = frame.contentDocument
  } catch { /* as above: then it shows what was pressed */ }
  revision = revisionOf(shown)
  history.replaceState(null, '', `#${shown}`)
  markShown()
  if (!page) return
  for (const link of page.links) {
    if (link.host !== location.host) {
      link.target = '_blank' // the frame shows nothing from elsewhere
      link.rel = 'noopener noreferrer'
    }
  }
  page.addEventListener('pointerdown', closePanels)
  if (kept?.path === shown) putBack(page)
  kept = null
})

function putBack(page) {
  for (const [name, value] of kept.chosen) {
    for (const input of page.getElementsByName(name)) input.checked = input.value === value
  }
  page.querySelectorAll('details').forEach((each, at) => { each.open = kept.open[at] ?? each.open })
  frame.contentWindow.scrollTo({ left: kept.left, top: kept.top, behavior: 'instant' })
}

function listSheets() {
  get('sheets').replaceChildren(...panel('For families', false), ...panel('For the class', true))
  markShown()
}

function panel(title, isPrivate) {
  const groups = state.groups.filter((each) => each.isPrivate === isPrivate)
  if (!groups.length) return []
  const columns = groups.map(({ title, entries }) =>
    make('section', {}, make('h2', {}, title), make('ul', {}, ...entries.map(sheetLink))))
  const inside = make('div', { className: 'panel' })
  if (isPrivate) {
    inside.append(make('p', {}, 'For the adults of the class: it may name children. The ' +
      'preview shows it on this computer alone.'))
  }
  inside.append(make('div', { className: 'columns' }, ...columns))
  return [make('details', {}, make('summary', {}, title), inside)]
}

function sheetLink({ name, path }) {
  const link = make('a', { href: `/${encodeURI(path)}` }, name)
  if (path.endsWith('.pdf')) {
    link.target = 'frame'
    link.addEventListener('click', () => { shown = link.pathname })
  } else link.download = ''
  return make('li', {}, link)
}

function markShown() {
  for (const link of document.querySelectorAll('nav a')) {
    const isShown = link.pathname === shown ||
      (link.pathname === HOME && shown.startsWith('/site/'))
    if (isShown) link.setAttribute('aria-current', 'page')
    else link.removeAttribute('aria-current')
  }
  for (const each of document.querySelectorAll('nav details')) {
    each.classList.toggle('here', each.querySelector('[aria-current]') !== null)
  }
  closePanels()
}

function closePanels() {
  document.querySelectorAll('nav details[open]').forEach((each) => { each.open = false })
}

document.addEventListener('pointerdown', (event) => {
  if (!event.target.closest('nav details')) closePanels()
})
document.addEventListener('keydown', (event) => { if (event.key === 'Escape') closePanels() })
get('sheets').addEventListener('toggle', (event) => {
  if (!event.target.open) return
  for (const each of document.querySelectorAll('nav details[open]')) {
    if (each !== event.target) each.open = false
  }
}, true)

function countOf(problems) {
  return ['error', 'warning', 'hint'].flatMap((level) => {
    const count = problems.filter((each) => each.level === level).length
    return count ? [`${count} ${level}${count === 1 ? '' : 's'}`] : []
  }).join(', ')
}

function listProblems() {
  const all = state.files.flatMap((each) => each.problems)
  const section = get('problems')
  const hadErrors = section.classList.contains('errors')
  section.hidden = !all.length
  section.classList.toggle('errors', state.hasErrors)
  if (state.hasErrors !== hadErrors) section.firstElementChild.open = state.hasErrors
  section.querySelector('summary').textContent = countOf(all) + (!state.hasErrors ? '' :
    state.madeAt ? `. Below is what was last made, at ${state.madeAt}.` :
      state.revisions.site ? '. Below is what was made before.' : '. Nothing was made yet.')
  get('list').replaceChildren(...state.files.map((file) => make('section', {},
    make('h2', {}, `${file.path}: ${countOf(file.problems)}`),
    make('ul', {}, ...file.problems.map((each) => problemItem(file.path, each))))))
}

function problemItem(path, { level, code, line, message, hint, source }) {
  const item = make('li', { className: `problem ${level}` }, make('p', {},
    make('span', { className: 'level' }, level), line ? ` ${path}:${line} ` : ' ',
    make('span', { className: 'code' }, code)), make('p', {}, message))
  if (source) {
    const [before, spot, after] = source
    item.append(make('pre', {}, make('span', { className: 'number' }, `${line}`),
      before, make('b', {}, spot), after))
  }
  if (/^[\p{Lu}“`][^]*[.?!]\s*$/u.test(hint)) item.append(make('p', {}, hint))
  else if (hint) item.append(make('p', {}, 'Write:'), make('pre', {}, hint))
  if (state.why[code]) {
    item.append(make('details', { className: 'why' }, make('summary', {}, 'Why it matters'),
      make('p', {}, state.why[code])))
  }
  return item
}

ask()
