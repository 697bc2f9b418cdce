// Finds things on a page by the words that a person sees. Runs in the page, before each question that a test asks of it.

const text = e => e.textContent.replace(/\s+/g, ' ').trim();
const shown = e => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== 'hidden';
const shownText = () => document.body.innerText.replace(/[^\S\n]+/g, ' ');

// best is the shown thing whose words are these, or else begin with them.
function best(things, words) {
  const seen = things.filter(shown);
  return seen.find(e => text(e) === words) || seen.find(e => text(e).startsWith(words));
}

const named = words => best([...document.querySelectorAll('a[href], button, summary')], words);

const labelled = words => {
  const label = best([...document.querySelectorAll('label')].filter(l => l.control && l.control.type !== 'radio' && l.control.type !== 'checkbox'), words);
  return label && label.control;
};

// option is the label of one option of the question with this legend.
const option = (legend, words) => {
  const set = [...document.querySelectorAll('fieldset')].filter(shown).find(f => f.querySelector('legend') && text(f.querySelector('legend')).startsWith(legend));
  return set && best([...set.querySelectorAll('label')], words);
};

function pickOption(label, words) {
  const list = labelled(label);
  if (!list || list.tagName !== 'SELECT') return 'there is no list ' + label;
  const found = [...list.options].find(o => text(o) === words) || [...list.options].find(o => text(o).startsWith(words));
  if (!found) return label + ' does not offer ' + words + ', but ' + [...list.options].map(text).join(' | ');
  list.value = found.value;
  list.dispatchEvent(new Event('change', { bubbles: true }));
  return '';
}

// spot brings a thing into view and says where a finger meets it and nothing that lies over it.
function spot(e) {
  if (!e) return { X: 0, Y: 0, Missing: 'there is nothing of that name' };
  e.scrollIntoView({ block: 'center', behavior: 'instant' });
  const box = e.getClientRects()[0];
  if (!box) return { X: 0, Y: 0, Missing: 'it is not shown' };
  const x = box.left + box.width / 2, y = box.top + box.height / 2, top = document.elementFromPoint(x, y);
  const met = top && (e.contains(top) || top.contains(e) && top.tagName === 'LABEL' || top.control === e || e.control === top);
  return { X: x, Y: y, Missing: met ? '' : 'it is covered by ' + (top ? top.outerHTML.slice(0, 120) : 'nothing') };
}

// widest names the things that reach past the screen, the innermost first.
function widest(width) {
  return [...document.querySelectorAll('body *')].reverse().filter(e => e.getBoundingClientRect().right > width + 1 && !e.closest('.drawing-scroll > *, .table-scroll > *, .unseen'))
    .slice(0, 3).map(e => e.outerHTML.slice(0, 160)).join(' | ');
}

// focusWords is the words of what the keyboard acts on; empty where that is the page itself.
function focusWords() {
  const e = document.activeElement;
  if (!e || e === document.body || e === document.documentElement) return '';
  return e.labels && e.labels.length ? text(e.labels[0]) : text(e) || e.getAttribute('aria-label') || e.tagName;
}

// focusHidden says why the focus cannot be seen, or nothing.
function focusHidden() {
  const e = document.activeElement, box = e.getBoundingClientRect(), style = getComputedStyle(e);
  const x = box.left + Math.min(box.width / 2, 40), y = box.top + box.height / 2, top = document.elementFromPoint(x, y);
  if (y < 0 || y > innerHeight) return 'is off the screen';
  if (!top || !(e.contains(top) || top.contains(e))) return 'lies under ' + (top ? top.outerHTML.slice(0, 120) : 'something');
  if (style.outlineStyle === 'none' && style.boxShadow === 'none') return 'has no outline';
  return '';
}

// groupStop is where Tab stops for an option: its own label, or the one of its group that is chosen, or the group's first.
function groupStop(words) {
  const label = best([...document.querySelectorAll('label')].filter(l => l.control), words), e = label && label.control;
  if (!e || e.type !== 'radio') return words;
  const group = [...e.form.querySelectorAll('input[type=radio]')].filter(r => r.name === e.name);
  return text((group.find(r => r.checked) || group[0]).labels[0]);
}
