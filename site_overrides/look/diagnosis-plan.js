/* Chances and the next test, as Python computes them: tools/shearpin/diagnosis/state.py is the contract, exact.py, bound.py
   and lookahead.py the ways of planning. The tests compare the two on random states. */
(() => {
  'use strict';

  const TOLERANCE = 1e-9;
  const IMPOSSIBLE = 1e-12;
  const STEPS = 2;
  const FEW_TESTS = 7;
  const STEPS_OF_FEW = 3;
  const SHOWN_COUNTS = 0.2;
  const SHOWN_WORTH = 5.0;
  const LEAST_CHARGE = 0.1;
  const SMALL_BRANCH_COST = 0.6;
  const WORD = 30;

  const total = (numbers) => {
    let sum = 0;
    for (let i = 0; i < numbers.length; i += 1) sum += numbers[i];
    return sum;
  };

  /* ---- sets: one number where 30 members are enough, as nearly always, else an array of such numbers ---------------------- */

  const SMALL_SETS = {
    none: () => 0,
    of: (size, members) => members.reduce((set, member) => set | (1 << member), 0),
    has: (set, member) => (set >> member) & 1,
    union: (a, b) => a | b,
    without: (a, b) => a & ~b,
    isEmpty: (set) => set === 0,
    key: (set) => set,
  };
  const LARGE_SETS = {
    none: (size) => new Array(Math.ceil(size / WORD)).fill(0),
    of: (size, members) => members.reduce((set, member) => {
      set[Math.floor(member / WORD)] |= 1 << (member % WORD);
      return set;
    }, LARGE_SETS.none(size)),
    has: (set, member) => (set[Math.floor(member / WORD)] >> (member % WORD)) & 1,
    union: (a, b) => a.map((word, i) => word | b[i]),
    without: (a, b) => a.map((word, i) => word & ~b[i]),
    isEmpty: (set) => set.every((word) => word === 0),
    key: (set) => set.join(),
  };

  /* ---- a model made ready for computing (state.py: Numbers) ---------------------------------------------------------------- */

  /* Place values of two mixed-radix numbers, of even and of odd tests, with a digit for each test, 0 for not done: what was
     done and seen in two numbers, for one could grow too long. */
  const placesOf = (checks) => {
    const values = [1, 1];
    return checks.map((check) => {
      const place = values[check.number % 2];
      values[check.number % 2] *= check.classes.length + 1;
      return place;
    });
  };

  /* A store by three keys: `found` of what was kept, undefined without it. */
  const store = () => {
    const first = new Map();
    const inner = (map, key) => {
      let found = map.get(key);
      if (found === undefined) {
        found = new Map();
        map.set(key, found);
      }
      return found;
    };
    return (a, b, c, make) => {
      const last = inner(inner(first, a), b);
      let found = last.get(c);
      if (found === undefined) {
        found = make();
        last.set(c, found);
      }
      return found;
    };
  };

  /* A model has priors by cause, `something-else` among them; tests with results, classes and likelihood by cause; minutes
     of access; start; terms. All as `shearpin diagnose --json --model` prints them. */
  const prepare = (model) => {
    const causes = Object.keys(model.priors).filter((cause) => cause !== 'something-else');
    const order = causes.concat('something-else');
    const access = Object.keys(model.access_minutes);
    const accessMinutes = access.map((name) => model.access_minutes[name]);
    const terms = model.terms;
    const size = Math.max(1, causes.length, access.length, model.tests.length);
    const sets = size <= WORD ? SMALL_SETS : LARGE_SETS;
    const setOf = (members) => sets.of(size, members);
    const accessSet = (names) => setOf(names.map((name) => access.indexOf(name)));

    const priors = order.map((cause) => model.priors[cause]);
    // What the causes but one make of a result together. Loops: on an old PC lists made for it took half the preparing.
    const mixture = (column, place) => {
      let rest = 0;
      let sum = 0;
      for (let i = 0; i < order.length; i += 1) {
        if (i !== place) {
          rest += priors[i];
          sum += priors[i] * column[i];
        }
      }
      return rest > 0 ? sum / rest : 0;
    };
    const speaksFor = (column) => {
      const places = [];
      const least = terms.speaks_for * column[causes.length];
      for (let i = 0; i < causes.length; i += 1) {
        if (column[i] > 0 && column[i] >= least && column[i] >= terms.speaks_for * mixture(column, i)) places.push(i);
      }
      return places;
    };
    const classesOf = (test) => {
      const found = [];
      test.results.forEach((result, index) => {
        const group = test.classes[index];
        const column = order.map((cause) => test.likelihood[cause][index]);
        if (!found[group]) found[group] = { results: [result], column };
        else {
          found[group].results.push(result);
          found[group].column = found[group].column.map((share, i) => share + column[i]);
        }
      });
      return found.map((known) => {
        const places = speaksFor(known.column);
        return Object.assign(known, { places, speaks: setOf(places) });
      });
    };
    const byTies = (a, b) => a.trial - b.trial || a.live - b.live || (a.id < b.id ? -1 : 1);
    const checks = model.tests.slice().sort(byTies).map((test, number) => ({
      id: test.id,
      number,
      own: setOf([number]),
      minutes: test.minutes,
      needs: accessSet(test.access),
      live: test.live,
      runs: test.runs,
      asFound: test.as_found,
      trial: test.trial,
      classes: classesOf(test),
    }));
    return {
      model, causes, order, access, accessMinutes, terms, checks, sets, setOf,
      nothing: sets.none(size),
      places: placesOf(checks),
      openingMinutes: new Map(),
      placesIn: new Map(),
      leftOf: new Map(),
      chargesOf: store(),
      exact: new Map(),
      start: accessSet(model.start),
      opened: accessSet(model.opened),
      asFound: setOf(checks.filter((check) => check.asFound).map((check) => check.number)),
      provenShare: terms.proven_at - TOLERANCE,
      checkOf: new Map(checks.map((check) => [check.id, check])),
    };
  };

  /* ---- states ------------------------------------------------------------------------------------------------------------------ */

  const beginning = (numbers, skipped = []) => ({
    weights: numbers.order.map((cause) => numbers.model.priors[cause]),
    shown: numbers.nothing,
    opened: numbers.opened,
    left: numbers.setOf(numbers.checks.filter((check) => !skipped.includes(check.id)).map((check) => check.number)),
    touched: false,
    even: 0,
    odd: 0,
  });

  const needs = (numbers, state, check) => {
    if (check.asFound) return numbers.nothing;
    const { union, without } = numbers.sets;
    return without(state.touched ? check.needs : union(check.needs, numbers.start), state.opened);
  };
  const minutesOf = (numbers, state, check) => {
    const missing = needs(numbers, state, check);
    if (numbers.sets.isEmpty(missing)) return check.minutes;
    const key = numbers.sets.key(missing);
    if (!numbers.openingMinutes.has(key)) {
      const opening = numbers.accessMinutes.filter((_, i) => numbers.sets.has(missing, i));
      numbers.openingMinutes.set(key, total(opening));
    }
    return check.minutes + numbers.openingMinutes.get(key);
  };
  const charge = (numbers, state, check) => minutesOf(numbers, state, check) + (check.live ? numbers.terms.live_minutes : 0);

  // A copy is a list of fractions from the start; one filled from nothing is made over when the first fraction comes.
  const multiplied = (weights, column) => {
    const found = weights.slice();
    for (let i = 0; i < found.length; i += 1) found[i] *= column[i];
    return found;
  };

  const moved = (numbers, state, check, result, weights, shown) => {
    const { union, without } = numbers.sets;
    let left = without(state.left, check.own);
    let { opened, touched } = state;
    if (!check.asFound) {
      left = without(left, numbers.asFound);
      opened = check.runs ? numbers.nothing : union(opened, needs(numbers, state, check));
      touched = true;
    }
    const digit = numbers.places[check.number] * (result + 1);
    const isOdd = check.number % 2;
    return {
      weights, shown, opened, left, touched,
      even: isOdd ? state.even : state.even + digit,
      odd: isOdd ? state.odd + digit : state.odd,
    };
  };
  const after = (numbers, state, check, result) => {
    const known = check.classes[result];
    const shown = numbers.sets.union(state.shown, known.speaks);
    return moved(numbers, state, check, result, multiplied(state.weights, known.column), shown);
  };

  // The causes in a set, as places in the order of causes.
  const placesIn = (numbers, set) => {
    const key = numbers.sets.key(set);
    let found = numbers.placesIn.get(key);
    if (found === undefined) {
      found = numbers.causes.map((_, i) => i).filter((i) => numbers.sets.has(set, i));
      numbers.placesIn.set(key, found);
    }
    return found;
  };
  const shownWeight = (weights, places) => {
    let most = 0;
    for (let i = 0; i < places.length; i += 1) if (weights[places[i]] > most) most = weights[places[i]];
    return most;
  };
  const proves = (numbers, weights, shown, share) => !numbers.sets.isEmpty(shown)
    && shownWeight(weights, placesIn(numbers, shown)) >= numbers.provenShare * share;
  const provenCause = (numbers, state) => {
    if (!proves(numbers, state.weights, state.shown, total(state.weights))) return null;
    const most = shownWeight(state.weights, placesIn(numbers, state.shown));
    return numbers.causes[numbers.causes.findIndex((_, i) => numbers.sets.has(state.shown, i) && state.weights[i] === most)];
  };
  const leftOf = (numbers, state) => {
    const key = numbers.sets.key(state.left);
    if (!numbers.leftOf.has(key)) {
      numbers.leftOf.set(key, numbers.checks.filter((check) => numbers.sets.has(state.left, check.number)));
    }
    return numbers.leftOf.get(key);
  };
  const chargesOf = (numbers, state) => numbers.chargesOf(numbers.sets.key(state.left), numbers.sets.key(state.opened), state.touched,
    () => leftOf(numbers, state).map((check) => ({ check, cost: charge(numbers, state, check) })));
  const sizeOf = (numbers, state) => {
    const { isEmpty, key } = numbers.sets;
    const left = leftOf(numbers, state);
    const opening = new Set(left.filter((check) => !isEmpty(check.needs) && !check.runs).map((check) => key(check.needs)));
    const ways = left.some((check) => check.runs) ? Math.max(1, opening.size) : 1;
    return left.reduce((product, check) => product * (check.classes.length + 1), ways);
  };

  /* What a test leads to: the states in which nothing is proven yet, with their weights. */
  const open = (numbers, state, check, weight) => {
    const found = [];
    for (let result = 0; result < check.classes.length; result += 1) {
      const known = check.classes[result];
      const weights = multiplied(state.weights, known.column);
      const share = total(weights);
      const shown = numbers.sets.union(state.shown, known.speaks);
      if (share > IMPOSSIBLE * weight && !proves(numbers, weights, shown, share)) {
        found.push({ state: moved(numbers, state, check, result, weights, shown), share });
      }
    }
    return found;
  };

  const firstOfLeast = (options, stop, tolerance) => {
    const least = options.reduce((low, [, value]) => Math.min(low, value), stop);
    if (stop <= least + tolerance) return { check: null, value: stop };
    const [check, value] = options.filter((option) => option[1] <= least + tolerance)
      .reduce((first, option) => (option[0].number < first[0].number ? option : first));
    return { check, value };
  };

  /* ---- the exact plan (exact.py, bound.py) ------------------------------------------------------------------------------------------ */

  const lowerBound = (numbers) => {
    const covers = store();
    const { union, without, isEmpty, key } = numbers.sets;
    const speaks = numbers.checks.map((check) => check.classes.reduce((set, known) => union(set, known.speaks), numbers.nothing));
    const priced = (state) => chargesOf(numbers, state)
      .map(({ check, cost }) => [cost, speaks[check.number]])
      .filter(([minutes]) => minutes < numbers.terms.unproven_minutes).sort((a, b) => a[0] - b[0]);
    const coverOf = (state) => covers(key(state.left), key(state.opened), state.touched, () => priced(state));
    return (state, weight) => {
      let rest = weight;
      let cost = 0;
      let seen = numbers.nothing;
      for (const [minutes, causes] of coverOf(state)) {
        const fresh = isEmpty(seen) ? union(causes, state.shown) : without(causes, seen);
        seen = union(seen, fresh);
        if (isEmpty(fresh)) continue;
        let most = 0;
        const places = placesIn(numbers, fresh);
        for (let i = 0; i < places.length; i += 1) most += state.weights[places[i]];
        most /= numbers.provenShare;
        if (most >= rest) return cost + minutes * rest;
        cost += minutes * most;
        rest -= most;
      }
      return cost + numbers.terms.unproven_minutes * rest;
    };
  };

  const exactPlanner = (numbers) => {
    const bound = lowerBound(numbers);
    const solved = store();

    const optionsOf = (state, weight, limit) => {
      const options = [];
      chargesOf(numbers, state).forEach(({ check, cost }) => {
        let least = cost * weight;
        if (least > limit) return;
        const branches = [];
        const opened = open(numbers, state, check, weight);
        for (let i = 0; i < opened.length; i += 1) {
          const low = bound(opened[i].state, opened[i].share);
          least += low;
          if (least > limit) return;
          branches.push({ state: opened[i].state, low });
        }
        if (least <= limit) options.push({ least, check, branches });
      });
      return options.sort((a, b) => a.least - b.least || a.check.number - b.check.number);
    };

    const solve = (state) => {
      const weight = total(state.weights);
      const stop = numbers.terms.unproven_minutes * weight;
      const tolerance = TOLERANCE * weight;
      const found = [];
      let best = stop;
      for (const { least, check, branches } of optionsOf(state, weight, stop + tolerance)) {
        if (least > best + tolerance) break;
        let value = least;
        const isWorse = branches.some((branch) => {
          value += choose(branch.state).value - branch.low;
          return value > best + tolerance;
        });
        if (!isWorse) {
          found.push([check, value]);
          best = Math.min(best, value);
        }
      }
      return firstOfLeast(found, stop, tolerance);
    };

    const choose = (state) => solved(state.even, state.odd, numbers.sets.key(state.opened), () => solve(state));
    return { method: 'exact', choose };
  };

  /* ---- the bounded plan (lookahead.py) ---------------------------------------------------------------------------------------------------- */

  const countOf = (numbers, set) => numbers.checks.reduce((count, check) => count + (numbers.sets.has(set, check.number) ? 1 : 0), 0);

  const lookAheadPlanner = (numbers, root) => {
    const floor = numbers.terms.smallest_branch * total(root.weights);
    const followed = store();
    const ahead = store();

    const ratedTest = (weights, weight, shownPlaces, before, check, cost) => {
      const last = weights.length - 1;
      let proof = 0;
      let shows = 0;
      for (let result = 0; result < check.classes.length; result += 1) {
        const { column, places } = check.classes[result];
        let shown = 0;
        for (let i = 0; i < shownPlaces.length; i += 1) {
          const one = weights[shownPlaces[i]] * column[shownPlaces[i]];
          if (one > shown) shown = one;
        }
        for (let i = 0; i < places.length; i += 1) {
          const one = weights[places[i]] * column[places[i]];
          if (one > shown) shown = one;
        }
        shows += shown;
        // Most results prove nothing beside something else alone: the sum over all causes is spared.
        if (shown === 0 || shown < numbers.provenShare * (shown + weights[last] * column[last])) continue;
        let share = 0;
        for (let i = 0; i <= last; i += 1) share += weights[i] * column[i];
        if (shown >= numbers.provenShare * share && share > IMPOSSIBLE * weight) proof += share;
      }
      proof /= weight;
      const gain = Math.max(0, (shows - before) / weight);
      return {
        check,
        cost,
        rate: (proof + SHOWN_COUNTS * gain) / Math.max(cost, LEAST_CHARGE),
        worth: (proof + SHOWN_WORTH * gain) * numbers.terms.unproven_minutes > cost,
      };
    };
    const rated = (state, weight) => {
      const shownPlaces = placesIn(numbers, state.shown);
      const before = shownWeight(state.weights, shownPlaces);
      return chargesOf(numbers, state).map(({ check, cost }) => ratedTest(state.weights, weight, shownPlaces, before, check, cost));
    };

    // More than `most` may be left short.
    const valueOf = (state, { check, cost }, weight, steps, most) => {
      let value = cost * weight;
      const opened = open(numbers, state, check, weight);
      for (let i = 0; i < opened.length; i += 1) {
        value += look(opened[i].state, opened[i].share, steps).value;
        if (value > most) break;
      }
      return value;
    };

    const byRule = (state, weight) => {
      const stop = numbers.terms.unproven_minutes * weight;
      const options = rated(state, weight).filter((option) => option.worth);
      const top = options.reduce((most, option) => Math.max(most, option.rate), 0);
      const first = options.find((option) => option.rate >= top - TOLERANCE);
      if (!first) return { check: null, value: stop };
      const value = valueOf(state, first, weight, 0, stop);
      return value < stop ? { check: first.check, value } : { check: null, value: stop };
    };

    const lookAhead = (state, weight, steps) => {
      const stop = numbers.terms.unproven_minutes * weight;
      const place = (option) => -Math.floor(option.rate / TOLERANCE + 0.5);
      const all = rated(state, weight);
      const most = all.length > FEW_TESTS ? numbers.terms.candidates : all.length;
      const isTried = (option, index) => index < most || (option.check.asFound && option.worth);
      let best = stop;
      const options = all.sort((a, b) => place(a) - place(b) || a.check.number - b.check.number).filter(isTried)
        .map((option) => {
          const further = option.check.asFound ? Math.max(1, steps - 1) : steps - 1;
          const value = valueOf(state, option, weight, further, best + TOLERANCE * weight);
          best = Math.min(best, value);
          return [option.check, value];
        });
      return firstOfLeast(options, stop, TOLERANCE * weight);
    };

    // `steps` to look ahead still; they depend on what was done only, so a state is always looked at alike.
    const look = (state, weight, steps) => {
      if (weight < floor) return { check: null, value: SMALL_BRANCH_COST * numbers.terms.unproven_minutes * weight };
      const key = numbers.sets.key(state.opened);
      return steps ? ahead(state.even, state.odd, key, () => lookAhead(state, weight, steps))
        : followed(state.even, state.odd, key, () => byRule(state, weight));
    };
    const steps = countOf(numbers, root.left) > FEW_TESTS ? STEPS : STEPS_OF_FEW;
    return { method: 'look-ahead', choose: () => look(root, total(root.weights), steps) };
  };

  /* ---- what pages ask --------------------------------------------------------------------------------------------------------------------------- */

  /* Return the state after answers ([test, result] in their order); throws for a test or result the model does not have. */
  const stateAfter = (numbers, answers, skipped = []) => answers.reduce((state, [test, result]) => {
    const check = numbers.checkOf.get(test);
    const known = check ? check.classes.findIndex((group) => group.results.includes(result)) : -1;
    if (known < 0) throw new Error(`${test} has no result ${result}`);
    return after(numbers, state, check, known);
  }, beginning(numbers, skipped));

  /* Return chances by cause, by the rows of each result and not of its class, as `posterior` of plan.py does. */
  const posterior = (numbers, answers) => {
    const tests = new Map(numbers.model.tests.map((test) => [test.id, test]));
    const weights = numbers.order.map((cause) => answers.reduce((weight, [id, result]) => {
      const test = tests.get(id);
      return weight * test.likelihood[cause][test.results.indexOf(result)];
    }, numbers.model.priors[cause]));
    const whole = total(weights);
    if (!(whole > 0)) return null;
    return new Map(numbers.order.map((cause, i) => [cause, weights[i] / whole]));
  };

  // What an exact plan has worked out for a state serves the states after it.
  const plannerFor = (numbers, state, skipped) => {
    if (sizeOf(numbers, state) > numbers.terms.exact_size) return lookAheadPlanner(numbers, state);
    const without = skipped.slice().sort().join();
    if (!numbers.exact.has(without)) numbers.exact.set(without, exactPlanner(numbers));
    return numbers.exact.get(without);
  };

  /* Return the next test (null to stop), how it was chosen, and what each class of its results leads to. `first` is what the
     page was built with, the test to begin with or '' for none: that choice looks the furthest, and is known already. */
  const next = (numbers, answers, skipped = [], first = null) => {
    const state = stateAfter(numbers, answers, skipped);
    const proven = provenCause(numbers, state);
    const planner = plannerFor(numbers, state, skipped);
    if (proven !== null) return { test: null, proven, method: planner.method, outcomes: [] };
    const isKnown = first !== null && answers.length === 0 && skipped.length === 0;
    const check = isKnown ? numbers.checkOf.get(first) || null : planner.choose(state).check;
    if (check === null) return { test: null, proven, method: planner.method, outcomes: [] };
    const weight = total(state.weights);
    const opens = needs(numbers, state, check);
    const outcomes = check.classes.map((known, result) => {
      const then = after(numbers, state, check, result);
      return { results: known.results, chance: total(then.weights) / weight, proves: provenCause(numbers, then) };
    });
    return {
      test: check.id,
      proven,
      method: planner.method,
      outcomes,
      minutes: minutesOf(numbers, state, check),
      opens: numbers.access.filter((_, i) => numbers.sets.has(opens, i)),
    };
  };

  window.shearpinPlan = { prepare, posterior, next };
})();
