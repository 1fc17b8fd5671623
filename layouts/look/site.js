// What the pages do besides being read. Without it everything is there all the same.
'use strict'

const siteTop = new URL('../', document.currentScript.src)

/** What a browser remembers for a site; one that may not remember forgets. */
const memory = {
  get(name) {
    try { return localStorage.getItem(`spoonfold ${name}`) } catch { return null }
  },
  set(name, value) {
    try { localStorage.setItem(`spoonfold ${name}`, value) } catch { /* It is chosen again. */ }
  },
}

/** The reader's own day: `2027-09-18`. */
function today() {
  const now = new Date()
  const two = (number) => String(number).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}

// The switches of a recipe: every page begins as the last one was left.
for (const radio of document.querySelectorAll('.switch input')) {
  if (radio.value === memory.get(radio.name)) radio.checked = true
  radio.addEventListener('change', () => memory.set(radio.name, radio.value))
}

// The dishes of the front page, narrowed. What is chosen stands in the address.
const filters = document.querySelector('.filters')
if (filters) {
  const texts = JSON.parse(filters.dataset.texts)
  const dishes = [...document.querySelectorAll('[data-dish]')]
  const fields = [...filters.querySelectorAll('input, select')]
  const [status, all] = [filters.querySelector('output'), filters.querySelector('button')]
  // A meeting none of whose dishes fits goes too, and a part of the page that is left empty.
  const groups = new Set(dishes.flatMap((dish) => [dish.closest('li'), dish.closest('section')]))
  const traits = new Map(dishes.map((dish) => [dish, JSON.parse(dish.dataset.dish)]))
  const names = new Map(dishes.map((dish) => [dish, dish.querySelector('h3 a').getAttribute('href')]))

  for (const dish of dishes) {
    const condition = document.createElement('p')
    condition.className = 'condition'
    dish.querySelector('h3').after(condition)
  }

  const chosen = () => fields
    .filter((field) => (field.type === 'checkbox' ? field.checked : field.value))
    .map((field) => [field.name, field.value])

  const without = (dish, avoided) => {
    // Of what nobody knows, nobody knows that it is without.
    if (!dish.known || avoided.some((each) => dish.has.includes(each))) return 'no'
    const swapped = avoided.filter((each) => each in dish.swap)
    // What replaces one food may bring what is avoided besides.
    if (swapped.some((each) => dish.swap[each].some((brought) => avoided.includes(brought)))) return 'no'
    if (swapped.length) return 'swap'
    return avoided.some((each) => dish.label.includes(each)) ? 'label' : 'fits'
  }

  const standing = (dish, wanted) => {
    const others = wanted.every(([name, value]) => {
      if (name === 'without') return true
      if (name === 'minutes') return dish.minutes > 0 && dish.minutes <= Number(value)
      return dish[name].includes(value)
    })
    const avoided = wanted.filter(([name]) => name === 'without').map(([, value]) => value)
    if (!others) return 'no'
    return avoided.length ? without(dish, avoided) : 'fits'
  }

  const show = () => {
    const wanted = chosen()
    // A dish that is cooked twice is one dish.
    const found = { fits: new Set(), label: new Set(), swap: new Set() }
    for (const dish of dishes) {
      const how = standing(traits.get(dish), wanted)
      dish.hidden = how === 'no'
      found[how]?.add(names.get(dish))
      const condition = dish.querySelector('.condition')
      condition.textContent = texts.marks[how] ?? ''
      condition.hidden = !condition.textContent
    }
    for (const group of groups) group.hidden = !group.querySelector('[data-dish]:not([hidden])')
    const said = Object.entries(found).filter(([how, names]) => how === 'fits' || names.size)
      .map(([how, names]) => texts[how].forms[texts[how].which[names.size]].replace('#', names.size))
    status.textContent = wanted.length ? said.join(' ') : ''
    all.hidden = !wanted.length
  }

  const keep = () => {
    show()
    const state = new URLSearchParams(chosen()).toString()
    history.replaceState(null, '', state ? `#${state}` : location.pathname + location.search)
  }

  const restore = () => {
    const state = new URLSearchParams(location.hash.slice(1))
    for (const field of fields) {
      const values = state.getAll(field.name)
      if (field.type === 'checkbox') field.checked = values.includes(field.value)
      else field.value = [...field.options].some((each) => each.value === values[0]) ? values[0] : ''
    }
    if (chosen().length) filters.open = true
    show()
  }

  for (const field of fields) field.addEventListener('change', keep)
  all.addEventListener('click', () => {
    for (const field of fields) {
      if (field.type === 'checkbox') field.checked = false
      else field.value = ''
    }
    keep()
    filters.querySelector('summary').focus()
  })
  addEventListener('hashchange', () => {
    // A way down the page, such as past the head of it, chooses nothing.
    if (!location.hash || location.hash.includes('=')) restore()
  })
  filters.hidden = false
  restore()
}

// The next meeting stands on top, by the reader's own day, and what was cooked before it.
const meetings = [...document.querySelectorAll('li[data-day]')]
const days = meetings.map((each) => each.dataset.day).sort()
const place = (name, day) => {
  const section = document.querySelector(`.${name}`)
  const list = document.createElement('ul')
  list.className = 'setting'
  for (const each of meetings.filter((meeting) => meeting.dataset.day === day)) {
    const copy = each.cloneNode(true)
    copy.hidden = false
    for (const drawn of copy.querySelectorAll('[id]')) drawn.removeAttribute('id')
    for (const dish of copy.querySelectorAll('[data-dish]')) {
      dish.removeAttribute('data-dish')
      dish.hidden = false
    }
    for (const condition of copy.querySelectorAll('.condition')) condition.remove()
    for (const plan of copy.querySelectorAll('.plan')) {
      if (name === 'ahead') plan.open = true
      else plan.remove()
    }
    list.append(copy)
  }
  section.append(list)
  section.hidden = false
  const heading = section.querySelector('h2')
  if (day === today()) heading.textContent = heading.dataset.today
}
const next = days.find((day) => day >= today())
const last = days.findLast((day) => day < today())
if (next) place('ahead', next)
if (last) place('before', last)

// Offline once visited: only where nobody on the way can have changed what is kept.
if (location.protocol === 'https:' && 'serviceWorker' in navigator) {
  navigator.serviceWorker.register(new URL('worker.js', siteTop)).catch(() => {
    // Kept for later or not, the page is here.
  })
  navigator.serviceWorker.ready.then((registration) => {
    const shown = performance.getEntriesByType('resource').map((each) => each.name)
    registration.active.postMessage({ opened: [location.href, ...shown], today: today() })
  })
}
