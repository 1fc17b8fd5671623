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

// The switches of a recipe: every page begins as the last one was left.
for (const radio of document.querySelectorAll('.switch input')) {
  if (radio.value === memory.get(radio.name)) radio.checked = true
  radio.addEventListener('change', () => memory.set(radio.name, radio.value))
}

// The dishes of the front page, narrowed. What is chosen stands in the address.
const filters = document.querySelector('.filters')
if (filters) {
  const counts = JSON.parse(filters.dataset.counts)
  const dishes = [...document.querySelectorAll('[data-dish]')]
  const fields = [...filters.querySelectorAll('input, select')]
  const [status, all] = [filters.querySelector('output'), filters.querySelector('button')]
  // A meeting none of whose dishes fits goes too, and a part of the page that is left empty.
  const groups = new Set(dishes.flatMap((dish) => [dish.closest('li'), dish.closest('section')]))
  const traits = new Map(dishes.map((dish) => [dish, JSON.parse(dish.dataset.dish)]))
  const names = new Map(dishes.map((dish) => [dish, dish.querySelector('h3 a').getAttribute('href')]))

  const chosen = () => fields
    .filter((field) => (field.type === 'checkbox' ? field.checked : field.value))
    .map((field) => [field.name, field.value])

  const fits = (dish, wanted) => wanted.every(([name, value]) => {
    // Of what nobody knows, nobody knows that it is without.
    if (name === 'without') return dish.known && !dish.contains.includes(value)
    if (name === 'minutes') return dish.minutes > 0 && dish.minutes <= Number(value)
    return dish[name].includes(value)
  })

  const show = () => {
    const wanted = chosen()
    for (const dish of dishes) dish.hidden = !fits(traits.get(dish), wanted)
    for (const group of groups) group.hidden = !group.querySelector('[data-dish]:not([hidden])')
    // A dish that is cooked twice is one dish.
    const left = new Set(dishes.filter((dish) => !dish.hidden).map((dish) => names.get(dish)))
    status.textContent = wanted.length ? counts[left.size] : ''
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

// Offline once visited: only where nobody on the way can have changed what is kept.
if (location.protocol === 'https:' && 'serviceWorker' in navigator) {
  navigator.serviceWorker.register(new URL('worker.js', siteTop)).catch(() => {
    // Kept for later or not, the page is here.
  })
}
