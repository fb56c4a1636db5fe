// Searches the index that docs/_ext/search_words.py writes. Nothing is fetched: it works from a folder as well.
"use strict";

(() => {
  const index = window.searchWords;
  const stop = new Set(index.stop);
  const stemmer = new Stemmer();
  const middle = index.pages.reduce((sum, page) => sum + page[3], 0) / index.pages.length;
  const known = new Map(Object.entries(index.words));
  const keys = [...known.keys()];
  const SOON = 4; // How late it makes no more difference that a page has a word once more.
  const isWord = /^\p{L}+$/u;

  // Cuts text as search_tokens.py does.
  const plain = (text) =>
    text
      .normalize("NFKD")
      .replace(/\u2044/g, "/")
      .replace(/\p{M}/gu, "")
      .replace(/\b([0-9]+) ([0-9]+\/[0-9]+)/g, "$1-$2")
      .replace(/(?<=[0-9])(?:"|″|'')/g, " in");
  const stem = (word) => (/^[a-z]+$/.test(word) ? stemmer.stemWord(word) : word);
  const forms = index.forms.map((form) => [form, known.has(form) ? form : stem(form)]).filter(([, key]) => known.has(key));

  // A query is a list of groups. A group is one thing that was asked for: ways to write it, and the parts it is made of.
  const groupsOf = (query) => {
    const text = plain(query);
    const groups = [];
    let number = "";
    let end = 0;
    for (const found of text.matchAll(/[\p{L}\p{N}]+(?:[-./_·][\p{L}\p{N}]+)*/gu)) {
      const whole = found[0].toLowerCase();
      const unit = Object.hasOwn(index.units, whole) ? index.units[whole] : null;
      const joined = number && unit !== null && /^\s+$/.test(text.slice(end, found.index));
      const stuck = whole.match(/^([0-9]+(?:[-./][0-9]+)*)([a-z]+)$/);
      const size = joined ? number + "~" + unit : null;
      number = /^[0-9]+(?:[-./][0-9]+)*$/.test(whole) ? whole : "";
      end = found.index + found[0].length;
      if (size !== null) {
        groups[groups.length - 1].whole.push(size);
        continue;
      }
      const parts = found[0]
        .split(/[-./_·]/)
        .flatMap((piece) => piece.split(/(?<=[a-z0-9])(?=[A-Z])/))
        .map((part) => part.toLowerCase());
      const written = parts.filter((part) => !stop.has(part));
      const group = { whole: [], parts: written.map(stem), written };
      if (stuck && Object.hasOwn(index.units, stuck[2])) group.whole.push(stuck[1] + "~" + index.units[stuck[2]]);
      if (parts.length > 1) {
        group.whole.push(whole);
        if (!/[0-9]/.test(whole)) group.whole.push(stem(parts.join("")));
      }
      if (group.parts.length || group.whole.length) groups.push(group);
    }
    return groups;
  };

  // How many single slips lead from one word to the other: a letter more, less, wrong, or two changed about.
  const slips = (left, right, most) => {
    if (Math.abs(left.length - right.length) > most) return most + 1;
    let before = [];
    let last = Array.from({ length: right.length + 1 }, (_, at) => at);
    for (let i = 1; i <= left.length; i++) {
      const row = [i];
      for (let j = 1; j <= right.length; j++) {
        const wrong = left[i - 1] === right[j - 1] ? 0 : 1;
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + wrong);
        if (i > 1 && j > 1 && left[i - 1] === right[j - 2] && left[i - 2] === right[j - 1])
          row[j] = Math.min(row[j], before[j - 2] + 1);
      }
      [before, last] = [last, row];
    }
    return last[right.length];
  };

  // Words of the index that a word may stand for, with how much each counts: itself, or its beginnings and near misses.
  // A slip of the pen is looked for in words as they are written, for it may change how the word is stemmed.
  const readings = (word, written) => {
    // A word of one page alone may be a slip that the page shows on purpose; the same slip in a query means the other word.
    const lone = known.has(word) && known.get(word).length === 2;
    if (known.has(word) && !lone) return [[word, 1]];
    const found = new Map();
    // Beginnings: of words as they are written; of everything only where it has a digit, such as a clause.
    if (lone) {
      found.set(word, 1);
    } else if (word.length > 2 && /[0-9]/.test(word)) {
      for (const key of keys) if (key.startsWith(word)) found.set(key, 0.6);
    } else if (word.length > 2) {
      for (const [form, key] of forms) if (form.startsWith(written)) found.set(key, 0.6);
    }
    const most = !isWord.test(written) || written.length < 4 ? 0 : written.length < 8 || lone ? 1 : 2;
    let least = Math.max(most, 1);
    if (most)
      for (const [form, key] of forms) {
        if (lone && key === word) continue;
        const count = slips(written, form, most);
        if (count < least) for (const [old, counts] of found) if (counts < 0.6) found.delete(old);
        if (count <= least) found.set(key, count === 1 ? 0.7 : 0.5);
        least = Math.min(least, count);
      }
    const uses = (key) => known.get(key).length;
    return [...found].sort((a, b) => b[1] - a[1] || uses(b[0]) - uses(a[0])).slice(0, 4);
  };

  // What each page scores for a word: rare words count more, long pages and endless repeating less.
  const scoresOf = (word, written = word) => {
    const scores = new Map();
    for (const [key, counts] of readings(word, written)) {
      const list = known.get(key);
      const rare = Math.log(1 + (index.pages.length - list.length / 2 + 0.5) / (list.length / 2 + 0.5));
      for (let at = 0; at < list.length; at += 2) {
        const long = 0.5 + (0.5 * index.pages[list[at]][3]) / middle;
        const score = (counts * rare * list[at + 1] * (1 + SOON)) / (list[at + 1] + SOON * long);
        scores.set(list[at], Math.max(score, scores.get(list[at]) || 0));
      }
    }
    return scores;
  };

  const best = (maps) => {
    const out = new Map();
    for (const [map, counts] of maps)
      for (const [page, score] of map) out.set(page, Math.max(out.get(page) || 0, counts * score));
    return out;
  };

  const partsScore = (parts, written = parts) => {
    const out = new Map();
    const sums = new Map();
    for (const [at, part] of parts.entries())
      for (const [page, score] of scoresOf(part, written[at])) {
        const [sum, count] = sums.get(page) || [0, 0];
        sums.set(page, [sum + score, count + 1]);
      }
    for (const [page, [sum, count]] of sums) out.set(page, (sum / parts.length) * (count / parts.length));
    return out;
  };

  // Puts what the pages say beside what people say, where the words stand together in the query.
  const others = (groups) => {
    const words = groups.map((group) => group.parts.join(" "));
    for (const [said, meant] of index.same)
      for (let at = 0; at + said.length <= groups.length; at++)
        if (said.every((word, i) => words[at + i] === word)) {
          groups[at].same = [...(groups[at].same || []), meant];
          for (let i = 1; i < said.length; i++) groups[at + i].spoken = true;
        }
  };

  // Tells which objects are meant by a name: those that bear it, or, where none does, those a slip of the pen away.
  const meantBy = (name, looksLikeName) => {
    const bears = (lower) => lower === name || lower.endsWith("." + name);
    const names = index.objects.map(([, , full]) => full.toLowerCase());
    if (!looksLikeName || names.some(bears)) return bears;
    const most = name.length < 8 ? 1 : 2;
    const away = (lower) => slips(name, lower.slice(lower.lastIndexOf(".") + 1), most);
    const least = Math.min(...names.map(away));
    return (lower) => least <= most && away(lower) === least;
  };

  /** Returns pages, best first: { page, title, summary, score, places: [[anchor, text]] }. */
  const find = (query) => {
    const groups = groupsOf(query);
    others(groups);
    const totals = new Map();
    for (const group of groups) {
      const scores = best([
        ...group.whole.map((word) => [known.has(word) || /^[a-z]{8,}$/.test(word) ? scoresOf(word) : new Map(), 1.4]),
        [partsScore(group.parts, group.written), 1],
        ...(group.same || []).map((meant) => [partsScore(meant), 0.9]),
      ]);
      if (!scores.size) group.spoken = true;
      for (const [page, score] of scores) {
        const [sum, count] = totals.get(page) || [0, 0];
        totals.set(page, [sum + score, count + (group.spoken ? 0 : 1)]);
      }
    }
    const asked = groups.filter((group) => !group.spoken);
    const said = query.trim().toLowerCase();
    const looksLikeName = /[A-Z_.(]/.test(query.trim());
    const called = said.replace(/\(.*\)$/, "").replace(/^tb\./, "turnback.");
    const meant = meantBy(called, looksLikeName);
    const onTheFace = (lower) => lower === called || lower === "turnback." + called;
    const headings = new Set(index.sections.filter(([, , text]) => text.toLowerCase() === said).map(([on]) => on));
    const results = [...totals].map(([page, [sum, count]]) => {
      const [name, title, summary] = index.pages[page];
      let score = sum * Math.pow(Math.min(count / Math.max(asked.length, 1), 1), 2);
      const places = index.objects
        .filter(([on, , full]) => on === page && meant(full.toLowerCase()))
        .map(([, anchor, full]) => [anchor, full]);
      if (places.length) score += looksLikeName ? 12 : 1;
      if (places.some(([, full]) => onTheFace(full.toLowerCase()))) score += looksLikeName ? 24 : 4;
      if (headings.has(page)) score += 6;
      if (title.toLowerCase() === said) score *= 2;
      for (const [folder, counts] of index.folders) if (name.startsWith(folder)) score *= counts;
      return { page: name, title, summary, score, at: page, places };
    });
    results.sort((a, b) => b.score - a.score || (a.page < b.page ? -1 : 1));
    return results.filter((result) => result.score > results[0].score / 8);
  };

  // Headings of a page that have a word of the query in them, for the pages that are shown.
  const placesOf = (result, groups) => {
    const words = new Set(
      groups.flatMap(({ whole, parts, written }) => [
        ...whole,
        ...parts.flatMap((part, at) => readings(part, written[at]).map(([key]) => key)),
      ]),
    );
    const scored = index.sections
      .filter(([on]) => on === result.at)
      .map(([, anchor, text]) => {
        const own = new Set(groupsOf(text).flatMap((group) => [...group.whole, ...group.parts]));
        return [[...own].filter((word) => words.has(word)).length, anchor, text];
      })
      .filter(([count]) => count > 0)
      .sort((a, b) => b[0] - a[0]);
    return [...result.places, ...scored.map(([, anchor, text]) => [anchor, text])].slice(0, 3);
  };

  window.siteSearch = { find };

  const box = document.getElementById("search-words");
  const list = document.getElementById("search-results");
  const said = document.getElementById("search-count");
  if (!box || !list || !said) return;
  const root = document.documentElement.dataset.content_root || "./";
  const AT_MOST = 20;

  const link = (address, text) => {
    const made = document.createElement("a");
    made.href = root + address;
    made.textContent = text;
    return made;
  };

  const show = () => {
    const query = box.value.trim();
    document.title = document.title.replace(/^.*?Search - /, (query ? query + " - " : "") + "Search - ");
    list.replaceChildren();
    said.textContent = "";
    if (!query) return;
    const results = find(query);
    const groups = groupsOf(query);
    const shown = results.slice(0, AT_MOST);
    said.textContent = results.length
      ? (results.length === 1 ? "1 page" : results.length + " pages") +
        (results.length > AT_MOST ? ", the first " + AT_MOST + " shown" : "")
      : "No page has these words. Try fewer words, or a size or clause as it is printed.";
    for (const result of shown) {
      const item = document.createElement("li");
      item.append(link(result.page + ".html", result.title));
      if (result.summary) {
        const summary = document.createElement("p");
        summary.textContent = result.summary;
        item.append(summary);
      }
      const places = placesOf(result, groups);
      if (places.length) {
        const where = document.createElement("p");
        where.className = "search-places";
        places.forEach(([anchor, text], i) => {
          if (i) where.append(" · ");
          where.append(link(result.page + ".html#" + anchor, text));
        });
        item.append(where);
      }
      list.append(item);
    }
  };

  const given = new URLSearchParams(window.location.search).get("q");
  document.querySelectorAll('input[name="q"]').forEach((input) => (input.value = given || ""));
  box.addEventListener("input", show);
  if (!given) box.focus();
  show();
})();
