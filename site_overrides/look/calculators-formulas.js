/* The bench calculations by name: the same formulas, refusals and worked lines as `shearpin compute`, which a test holds
   against each other. Where each formula comes from stands on the page. */
(() => {
  'use strict';

  const bench = window.shearpinBench;
  const { shown, withUnit, general, impossible, parseThread, strengthAt } = bench;
  const radians = (degrees) => degrees * (Math.PI / 180);
  const degrees = (angle) => angle * (180 / Math.PI);
  const square = (x) => x * x;
  const remarks = (...notes) => notes.filter(Boolean);
  const given = () => bench.data().constants;
  const many = (count) => (count > 1 ? 's' : '');

  /* ---- what no real part, belt, fuel or winding can be ------------------------------------------------------------------ */

  const SMALLEST = 1e-9;
  const LARGEST = 1e12;
  const UNITS = [
    ['_m_s', 'm/s'], ['_mm2', 'mm²'], ['_cm3', 'cm³'], ['_mpa', 'MPa'], ['_kpa', 'kPa'], ['_ohm', 'Ω'], ['_rpm', 'rpm'],
    ['_deg', '°'], ['_percent', '%'], ['_nm', 'N·m'], ['_mm', 'mm'], ['_ml', 'mL'], ['_hz', 'Hz'], ['_c', '°C'], ['_n', 'N'],
    ['_l', 'L'], ['_v', 'V'], ['_a', 'A'], ['_w', 'W'],
  ];

  /* `['shaft diameter', 'mm']` for `shaft_diameter_mm`. */
  const wordsAndUnit = (argument) => {
    const found = UNITS.find(([suffix]) => argument.endsWith(suffix));
    const bare = found ? argument.slice(0, -found[0].length) : argument;
    return [bare.replace(/_/g, ' '), found ? found[1] : ''];
  };

  const requireFinite = (given) => Object.entries(given).forEach(([argument, number]) => {
    const [words, unit] = wordsAndUnit(argument);
    if (!Number.isFinite(number)) throw impossible(argument, `the ${words} must be a number, and this one is ${shown(number)}`);
    if (Math.abs(number) > LARGEST) {
      throw impossible(argument, `the ${words} is beyond anything on a bench: ${general(number, 3)} ${unit}`.trim());
    }
  });

  const requirePositive = (given) => {
    requireFinite(given);
    Object.entries(given).forEach(([argument, number]) => {
      const [words, unit] = wordsAndUnit(argument);
      if (number < SMALLEST) {
        throw impossible(argument, `the ${words} must be more than ${withUnit(0, unit)}, not ${withUnit(number, unit)}`);
      }
    });
  };

  const requireNotNegative = (given) => {
    requireFinite(given);
    Object.entries(given).forEach(([argument, number]) => {
      const [words, unit] = wordsAndUnit(argument);
      if (number < 0) throw impossible(argument, `the ${words} cannot be below ${withUnit(0, unit)}, and ${withUnit(number, unit)} is`);
    });
  };

  const requireBetween = (lowest, highest, given) => {
    requireFinite(given);
    Object.entries(given).forEach(([argument, number]) => {
      const [words, unit] = wordsAndUnit(argument);
      if (!(lowest <= number && number <= highest)) {
        const limits = `${shown(lowest)} to ${withUnit(highest, unit)}`;
        throw impossible(argument, `the ${words} must lie within ${limits}, and ${withUnit(number, unit)} does not`);
      }
    });
  };

  const requireCount = (given) => Object.entries(given).forEach(([argument, number]) => {
    if (!Number.isInteger(number) || number < 1 || number > 1000000) {
      throw impossible(argument, `the ${wordsAndUnit(argument)[0]} must be a whole number, one or more, not ${number}`);
    }
  });

  /* ---- threads and bolts --------------------------------------------------------------------------------------------------- */

  const rootDiameter = (thread) => thread.diameter - (thread.system === 'unified' ? 1.299038 : 1.226869) * thread.pitch;
  const stressArea = (thread) => Math.PI / 4 * square(thread.diameter - (thread.system === 'unified' ? 0.9743 : 0.9382) * thread.pitch);
  const rootArea = (thread) => Math.PI / 4 * square(rootDiameter(thread));
  const factorWords = (factor) => {
    const [whole, decimals] = shown(factor, 3).split('.');
    return `${whole}.${(decimals || '').padEnd(2, '0')}`;
  };

  const nutFactor = (read) => {
    if (read.has('nut-factor')) return [read.number('nut-factor'), 'K as entered.'];
    const [, condition, value, source] = bench.data().nutFactors.find(([name]) => name === read.name('condition'));
    return [value, `K ${factorWords(value)}: ${condition}, ${source}.`];
  };
  const requireNutFactor = (factor) => {
    requirePositive({ nut_factor: factor });
    if (factor >= 1) throw impossible('nut_factor', `a nut factor lies between 0 and 1, about 0.2, not ${general(factor)}`);
  };
  const targetPreload = (proof, share) => {
    requirePositive({ proof_load_n: proof });
    if (!(share >= 0.01 && share <= 1)) {
      throw impossible('share', `a preload is 1 to 100 % of the proof load, and ${shown(100 * share)} % is not`);
    }
    return share * proof;
  };
  const preloadFromTorque = (factor, diameter, torque) => {
    requireNutFactor(factor);
    requirePositive({ diameter_mm: diameter, torque_nm: torque });
    return torque / (factor * diameter / 1000);
  };

  const boltTorque = (read) => {
    const thread = parseThread(read.name('thread'));
    const strength = strengthAt(read.name('grade'), thread.diameter);
    const [factor, origin] = nutFactor(read);
    const share = read.number('share') / 100;
    const preload = targetPreload(strength.proof * stressArea(thread), share);
    requireNutFactor(factor);
    requirePositive({ diameter_mm: thread.diameter, preload_n: preload });
    const torque = factor * thread.diameter / 1000 * preload;
    return {
      values: [torque, preload / 1000],
      worked: `${withUnit(torque, 'N·m', 3)}: ${thread.designation}, ${strength.short}, K ${factorWords(factor)}, ${shown(100 * share, 3)} % of proof load`,
      notes: remarks(strength.note, origin),
    };
  };

  const boltPreload = (read) => {
    const thread = parseThread(read.name('thread'));
    const strength = strengthAt(read.name('grade'), thread.diameter);
    const area = stressArea(thread);
    const [factor, origin] = nutFactor(read);
    const torque = read.number('torque');
    const typed = read.spread('torque');
    const tolerance = typed === null ? torque * read.number('tolerance') / 100 : typed;
    const scatter = read.name('scatter') === 'lubricated' ? given().scatterLubricated : given().scatterDry;
    const nominal = preloadFromTorque(factor, thread.diameter, torque);
    requireNotNegative({ tolerance_nm: tolerance });
    if (tolerance >= torque) throw impossible('tolerance_nm', 'the tolerance must be smaller than the torque itself');
    const lowest = (1 - scatter) * preloadFromTorque(factor, thread.diameter, torque - tolerance);
    const highest = (1 + scatter) * preloadFromTorque(factor, thread.diameter, torque + tolerance);
    const proof = strength.proof * area;
    requirePositive({ limit_n: proof });
    requirePositive({ preload_n: nominal });
    const [percent, most] = [100 * nominal / proof, 100 * highest / proof];
    requirePositive({ preload_n: highest });
    const margin = 100 * (strength.yielding * area / nominal - 1);
    return {
      values: [percent, most, nominal / 1000, lowest / 1000, highest / 1000, margin],
      worked: `${withUnit(torque, 'N·m', 3)}: ${thread.designation}, ${strength.short}, K ${factorWords(factor)}, ${shown(percent, 3)} % of proof load`,
      notes: remarks(most > 100 ? 'With the full scatter of a wrench the preload can pass the proof load.' : '', strength.note, origin),
    };
  };

  const turnOfNut = (read) => {
    const thread = parseThread(read.name('thread'));
    const strength = strengthAt(read.name('grade'), thread.diameter);
    const area = stressArea(thread);
    const [share, grip] = [read.number('share') / 100, read.number('grip')];
    const preload = targetPreload(strength.proof * area, share);
    const elastic = read.number('elastic');
    requirePositive({ preload_n: preload, area_mm2: area, grip_mm: grip, elastic_mpa: elastic, pitch_mm: thread.pitch });
    const angle = 360 * preload * grip / (area * elastic * thread.pitch);
    return {
      values: [angle, preload / 1000],
      worked: `${withUnit(angle, '°', 3)} from snug: ${thread.designation}, ${strength.short}, ${withUnit(grip, 'mm', 3)} grip, ${shown(100 * share, 3)} % of proof load`,
      notes: remarks(strength.note),
    };
  };

  const nutFactorFromFriction = (read) => {
    const thread = parseThread(read.name('thread'));
    const mean = (thread.diameter + rootDiameter(thread)) / 2;
    const [inThread, underHead] = [read.number('thread-friction'), read.number('collar-friction')];
    const helix = degrees(Math.atan(thread.pitch / (Math.PI * mean)));
    const rise = Math.tan(radians(helix));
    requireBetween(0, 0.5, { thread_friction: inThread, collar_friction: underHead });
    const rub = inThread / Math.cos(radians(30));
    const factor = mean / (2 * thread.diameter) * (rise + rub) / (1 - rub * rise) + 0.625 * underHead;
    return {
      values: [factor, helix],
      worked: `K ${factorWords(factor)}: ${thread.designation}, friction ${shown(inThread, 3)} in the thread, ${shown(underHead, 3)} under the head`,
      notes: [],
    };
  };

  const threadSizes = (read) => {
    const thread = parseThread(read.name('thread'));
    const area = stressArea(thread);
    return {
      values: [area, rootArea(thread), thread.diameter, rootDiameter(thread), thread.pitch],
      worked: `${withUnit(area, 'mm²', 3)} stress area: ${thread.designation}, pitch ${withUnit(thread.pitch, 'mm', 3)}`,
      notes: [],
    };
  };

  const boltStrength = (read) => {
    const thread = parseThread(read.name('thread'));
    const strength = strengthAt(read.name('grade'), thread.diameter);
    const area = stressArea(thread);
    const loads = [strength.proof, strength.yielding, strength.tensile].map((stress) => stress * area / 1000);
    return {
      values: loads,
      worked: `${withUnit(loads[0], 'kN', 3)} proof load: ${thread.designation}, ${strength.short}`,
      notes: remarks(strength.note, `Strengths: ${strength.source}.`),
    };
  };

  /* ---- the torque wrench --------------------------------------------------------------------------------------------------- */

  const effectiveLever = (lever, adapter, angle) => {
    requirePositive({ lever_mm: lever, adapter_mm: adapter });
    requireFinite({ angle_deg: angle });
    const folded = Math.abs(angle) % 360;
    const reach = lever + adapter * (folded === 90 || folded === 270 ? 0 : Math.cos(radians(folded)));
    if (reach <= lever * 1e-9) {
      throw impossible('adapter_mm', 'the adapter is folded back past the hand: the wrench lever must be longer than that');
    }
    return reach;
  };
  const adapterWords = (read) =>
    `lever ${withUnit(read.number('lever'), 'mm', 3)}, adapter ${withUnit(read.number('adapter'), 'mm', 3)} at ${withUnit(read.number('angle'), '°', 3)}`;

  const adapterSetting = (read) => {
    const torque = read.number('torque');
    requirePositive({ torque_nm: torque });
    const setting = torque * read.number('lever') / effectiveLever(read.number('lever'), read.number('adapter'), read.number('angle'));
    return { values: [setting], worked: `set ${withUnit(setting, 'N·m', 3)} for ${withUnit(torque, 'N·m', 3)}: ${adapterWords(read)}`, notes: [] };
  };

  const adapterTorque = (read) => {
    const setting = read.number('setting');
    requirePositive({ setting_nm: setting });
    const torque = setting * effectiveLever(read.number('lever'), read.number('adapter'), read.number('angle')) / read.number('lever');
    return { values: [torque], worked: `${withUnit(torque, 'N·m', 3)} when set to ${withUnit(setting, 'N·m', 3)}: ${adapterWords(read)}`, notes: [] };
  };

  const tighteningPasses = (read) => {
    const torque = read.number('torque');
    requirePositive({ torque_nm: torque });
    if (torque <= given().stagedAbove) return { values: [torque, torque], worked: `${withUnit(torque, 'N·m', 3)} in one pass`, notes: [] };
    const first = given().firstPassShare * torque;
    return { values: [first, torque], worked: `in a pattern: first ${withUnit(first, 'N·m', 3)}, then ${withUnit(torque, 'N·m', 3)}`, notes: [] };
  };

  const prevailingTorque = (read) => {
    const [torque, prevailing] = [read.number('torque'), read.number('prevailing')];
    requirePositive({ torque_nm: torque });
    requireNotNegative({ prevailing_nm: prevailing });
    const total = torque + prevailing;
    return { values: [total], worked: `${withUnit(total, 'N·m', 3)}: ${withUnit(torque, 'N·m', 3)} and ${withUnit(prevailing, 'N·m', 3)} prevailing`, notes: [] };
  };

  const reducedTorque = (read) => {
    const [, condition, share, note] = bench.data().reductions.find(([name]) => name === read.name('condition'));
    const dry = read.number('dry-torque');
    requirePositive({ dry_torque_nm: dry });
    const torque = (1 - share) * dry;
    return {
      values: [torque],
      worked: `${withUnit(torque, 'N·m', 3)}: ${withUnit(dry, 'N·m', 3)} dry, less ${shown(100 * share)} %, ${condition}`,
      notes: remarks(note),
    };
  };

  /* ---- shear bolts ------------------------------------------------------------------------------------------------------------ */

  const shankArea = (diameter) => {
    requirePositive({ diameter_mm: diameter });
    return Math.PI / 4 * square(diameter);
  };

  const shearRelease = (read) => {
    const thread = parseThread(read.name('thread'));
    const inThread = read.name('plane') === 'thread';
    const area = inThread ? rootArea(thread) : shankArea(thread.diameter);
    const strength = strengthAt(read.name('grade'), thread.diameter);
    const force = given().ultimateShear * strength.tensile * area;
    const [shaft, planes] = [read.number('shaft-diameter'), read.count('planes')];
    requirePositive({ force_n: force, shaft_diameter_mm: shaft });
    if (planes !== 1 && planes !== 2) throw impossible('planes', `a shear bolt has one or two shear planes, not ${planes}`);
    const torque = planes * force * shaft / 2 / 1000;
    return {
      values: [torque, force / 1000],
      worked: `${withUnit(torque, 'N·m', 3)}: ${thread.designation} through the ${inThread ? 'thread' : 'shank'}, ${strength.short}, ${planes} plane${many(planes)}, ${withUnit(shaft, 'mm', 3)} shaft`,
      notes: remarks(strength.note),
    };
  };

  const shearSwap = (read) => {
    const diameter = read.number('diameter');
    const strengthOf = (key) => {
      requirePositive({ diameter_mm: diameter });
      return strengthAt(read.name(key), diameter, key);
    };
    const [specified, fitted] = [strengthOf('specified'), strengthOf('fitted')];
    const ratio = fitted.tensile / specified.tensile;
    return {
      values: [ratio, 100 * (ratio - 1)],
      worked: `${shown(ratio, 3)} times the release torque: ${fitted.short} for ${specified.short}`,
      notes: remarks(ratio > 1 ? 'The bolt is no longer the weakest part.' : '', specified.note, fitted.note),
    };
  };

  const shearStress = (read) => {
    const [diameter, planes] = [read.number('diameter'), read.count('planes')];
    requirePositive({ diameter_mm: diameter });
    const strength = strengthAt(read.name('grade'), diameter);
    const [force, area] = [read.number('force') * 1000, shankArea(diameter)];
    requirePositive({ force_n: force, area_mm2: area });
    if (planes !== 1 && planes !== 2) throw impossible('planes', `a pin has one or two shear planes, not ${planes}`);
    const stress = force / (planes * area);
    requirePositive({ stress_mpa: stress, tensile_mpa: strength.tensile });
    const { holdsBelow, shearsAbove } = given();
    const state = stress <= holdsBelow * strength.tensile ? 'holds' : stress >= shearsAbove * strength.tensile ? 'shears' : 'may shear';
    return {
      values: [stress, state],
      worked: `${withUnit(stress, 'MPa', 3)}, ${state}: ${withUnit(diameter, 'mm', 3)} pin, ${strength.short}, ${withUnit(read.number('force'), 'kN', 3)}`,
      notes: remarks(strength.note),
    };
  };

  /* ---- belts ------------------------------------------------------------------------------------------------------------------- */

  const requirePulleys = (large, small, centre) => {
    requirePositive({ large_mm: large, small_mm: small, centre_distance_mm: centre });
    if (centre < (large + small) / 2 * (1 - 1e-12)) {
      throw impossible('centre_distance_mm', `pulleys of ${shown(large)} and ${shown(small)} mm would overlap at a centre distance of ${shown(centre)} mm`);
    }
  };
  const openLength = (large, small, centre) => {
    requirePulleys(large, small, centre);
    const difference = Math.abs(large - small);
    const lean = Math.asin(difference / (2 * centre));
    return Math.sqrt(4 * square(centre) - square(difference)) + Math.PI / 2 * (large + small) + difference * lean;
  };
  const wrap = (pulley, other, centre) => 180 - 2 * degrees(Math.asin((other - pulley) / (2 * centre)));
  const pulleyWords = (read) => `pulleys ${shown(read.number('large'))} and ${withUnit(read.number('small'), 'mm')}`;

  const beltLength = (read) => {
    const [large, small, centre] = ['large', 'small', 'centre-distance'].map(read.number);
    const length = openLength(large, small, centre);
    const about = 2 * centre + Math.PI / 2 * (large + small) + square(large - small) / (4 * centre);
    return {
      values: [length, about, wrap(small, large, centre), wrap(large, small, centre)],
      worked: `${withUnit(length, 'mm')}: ${pulleyWords(read)}, centres ${withUnit(centre, 'mm')} apart`,
      notes: [],
    };
  };

  const crossedBeltLength = (read) => {
    const [large, small, centre] = ['large', 'small', 'centre-distance'].map(read.number);
    requirePulleys(large, small, centre);
    const both = large + small;
    const angle = 180 + 2 * degrees(Math.asin(Math.min(both / (2 * centre), 1)));
    const length = Math.sqrt(Math.max(4 * square(centre) - square(both), 0)) + both / 2 * radians(angle);
    return {
      values: [length, angle],
      worked: `${withUnit(length, 'mm')}: ${pulleyWords(read)}, centres ${withUnit(centre, 'mm')} apart`,
      notes: [],
    };
  };

  const beltCentreDistance = (read) => {
    const [length, large, small] = ['length', 'large', 'small'].map(read.number);
    requirePositive({ length_mm: length, large_mm: large, small_mm: small });
    let low = (large + small) / 2;
    const shortest = openLength(large, small, low);
    if (length < shortest) {
      throw impossible('length_mm', `a belt of ${shown(length)} mm cannot reach round pulleys of ${shown(large)} and ${shown(small)} mm; the shortest possible is ${shown(Math.ceil(shortest), 6)} mm`);
    }
    let high = Math.max(length / 2, low);
    for (let half = 0; half < 200; half += 1) {
      const middle = (low + high) / 2;
      if (middle === low || middle === high) break;
      if (openLength(large, small, middle) < length) low = middle;
      else high = middle;
    }
    const centre = (low + high) / 2;
    const b = 4 * length - 2 * Math.PI * (large + small);
    const about = (b + Math.sqrt(Math.max(square(b) - 32 * square(large - small), 0))) / 16;
    return { values: [centre, about], worked: `${withUnit(centre, 'mm')}: belt ${withUnit(length, 'mm')}, ${pulleyWords(read)}`, notes: [] };
  };

  const pulleySpeed = (read) => {
    const [first, slip] = [read.number('driver-speed'), read.number('slip') / 100];
    if (read.has('second-driver') !== read.has('second-driven')) {
      throw impossible(read.has('second-driver') ? 'second_driven' : 'second_driver', 'a second belt needs both of its pulleys');
    }
    const pairs = [[read.number('driver'), read.number('driven')]];
    if (read.has('second-driver')) {
      const [driver, driven] = [read.number('second-driver'), read.number('second-driven')];
      requirePositive({ second_driver_mm: driver, second_driven_mm: driven });
      pairs.push([driver, driven]);
    }
    requirePositive({ driver_speed_rpm: first });
    const last = pairs.reduce((speed, [driver, driven]) => {
      requirePositive({ driver_mm: driver, driven_mm: driven });
      if (!(slip >= 0 && slip <= 0.5)) throw impossible('slip', `a belt slips 0 to 50 %, and ${shown(100 * slip)} % is not in that range`);
      return speed * (driver / driven * (1 - slip));
    }, first);
    const sizes = pairs.map(([driver, driven]) => `${shown(driver)} to ${withUnit(driven, 'mm')}`).join(', then ');
    return {
      values: [last, first / last],
      worked: `${withUnit(last, 'rpm')}: ${withUnit(first, 'rpm')}, ${sizes}, slip ${shown(100 * slip, 3)} %`,
      notes: [],
    };
  };

  const tipSpeed = (diameter, speed) => {
    requirePositive({ diameter_mm: diameter });
    requireBetween(0, 1e6, { speed_rpm: speed });
    return Math.PI * diameter / 1000 * speed / 60;
  };

  const surfaceSpeed = (read) => {
    const [diameter, speed] = [read.number('diameter'), read.number('speed')];
    const surface = tipSpeed(diameter, speed);
    return { values: [surface], worked: `${withUnit(surface, 'm/s', 3)}: ${withUnit(diameter, 'mm')} at ${withUnit(speed, 'rpm')}`, notes: [] };
  };

  const throwingDistance = (read) => {
    const [diameter, speed, angle] = ['diameter', 'speed', 'angle'].map(read.number);
    requirePositive({ speed_rpm: speed });
    const tip = tipSpeed(diameter, speed);
    requirePositive({ tip_speed_m_s: tip });
    requireBetween(0, 90, { angle_deg: angle });
    const distance = square(tip) * Math.sin(radians(2 * angle)) / given().gravity;
    return {
      values: [distance, tip],
      worked: `never beyond ${withUnit(distance, 'm', 3)}: ${withUnit(diameter, 'mm')} impeller at ${withUnit(speed, 'rpm')}, tip ${withUnit(tip, 'm/s', 3)}, chute at ${withUnit(angle, '°', 3)}`,
      notes: [],
    };
  };

  const beltPower = (read) => {
    const [tight, friction, wrapped, groove] = ['tight-side', 'friction', 'wrap-degrees', 'groove'].map(read.number);
    requirePositive({ tight_side_n: tight });
    requireBetween(0.01, 1.5, { friction });
    requireBetween(1, 720, { wrap_degrees: wrapped });
    requireBetween(20, 180, { groove_deg: groove });
    const slack = tight * Math.exp(-(friction / Math.sin(radians(groove / 2))) * radians(wrapped));
    const speed = tipSpeed(read.number('diameter'), read.number('speed'));
    const power = (tight - slack) * speed;
    return {
      values: [power, slack, speed],
      worked: `${withUnit(power, 'W', 3)} before it slips: tight side ${withUnit(tight, 'N', 3)}, slack side ${withUnit(slack, 'N', 3)}, ${withUnit(speed, 'm/s', 3)}`,
      notes: [],
    };
  };

  /* ---- gears, chain, friction disc, clutch, shafts ---------------------------------------------------------------------------- */

  const gearTrain = (read) => {
    const meshes = [[read.count('driver-teeth'), read.count('driven-teeth')]];
    ['second', 'third'].forEach((order) => {
      const [driver, driven] = [`${order}-driver-teeth`, `${order}-driven-teeth`];
      if (read.has(driver) !== read.has(driven)) {
        throw impossible((read.has(driver) ? driven : driver).replace(/-/g, '_'), `a ${order} pair of gears needs both of them`);
      }
      if (read.has(driver)) {
        [driver, driven].forEach((key) => requireCount({ [key.replace(/-/g, '_')]: read.count(key) }));
        meshes.push([read.count(driver), read.count(driven)]);
      }
    });
    const [speed, torque] = [read.number('speed'), read.number('torque')];
    requirePositive({ speed_rpm: speed, torque_nm: torque });
    const ratio = meshes.reduce((so, [driver, driven]) => {
      requireCount({ driver_teeth: driver, driven_teeth: driven });
      return so * (driven / driver);
    }, 1);
    const out = (meshes.length % 2 ? -1 : 1) * speed / ratio;
    const direction = out < 0 ? 'backwards' : 'forwards';
    const pairs = meshes.map(([driver, driven]) => `${driven}/${driver}`).join(' · ');
    return {
      values: [out, torque * ratio, ratio, direction],
      worked: `${withUnit(Math.abs(out), 'rpm')} ${direction}: ratio ${shown(ratio)} = ${pairs}`,
      notes: [],
    };
  };

  const gearboxSpeed = (read) => {
    const [speed, ratio] = [read.number('speed'), read.number('ratio')];
    requirePositive({ speed_rpm: speed, ratio });
    const out = speed / ratio;
    return { values: [out], worked: `${withUnit(out, 'rpm')}: ${withUnit(speed, 'rpm')}, ratio ${shown(ratio)}:1`, notes: [] };
  };

  const wormGear = (read) => {
    const [teeth, starts] = [read.count('wheel-teeth'), read.count('starts')];
    requireCount({ wheel_teeth: teeth, starts });
    if (starts > teeth) throw impossible('starts', 'a worm cannot have more starts than its wheel has teeth');
    const ratio = teeth / starts;
    const speed = read.number('speed') / ratio;
    return { values: [speed, ratio], worked: `${withUnit(speed, 'rpm')}: ratio ${shown(ratio)} = ${teeth}/${starts}`, notes: [] };
  };

  const chainDrive = (read) => {
    const [driver, driven] = [read.count('driver-teeth'), read.count('driven-teeth')];
    requireCount({ driver_teeth: driver, driven_teeth: driven });
    const ratio = driven / driver;
    const speed = read.number('speed') / ratio;
    return { values: [speed, ratio], worked: `${withUnit(speed, 'rpm')}: ratio ${shown(ratio)} = ${driven}/${driver}`, notes: [] };
  };

  const frictionDisc = (read) => {
    const [plate, position, radius] = ['plate', 'position', 'wheel-radius'].map(read.number);
    requirePositive({ plate_rpm: plate, wheel_radius_mm: radius });
    requireFinite({ position_mm: position });
    const speed = plate * position / radius;
    const direction = speed === 0 ? 'standing still' : speed > 0 ? 'forwards' : 'reverse';
    return {
      values: [speed, direction],
      worked: `${withUnit(Math.abs(speed), 'rpm')} ${direction}: plate ${withUnit(plate, 'rpm')}, wheel of ${withUnit(radius, 'mm')} radius at ${withUnit(position, 'mm')}`,
      notes: [],
    };
  };

  const clutchTorque = (read) => {
    const [friction, clamp, outer, inner] = ['friction', 'clamp', 'outer', 'inner'].map(read.number);
    const faces = read.count('faces');
    requireBetween(0.01, 1.5, { friction });
    requirePositive({ clamp_n: clamp, outer_mm: outer, inner_mm: inner });
    requireCount({ faces });
    if (inner >= outer) throw impossible('inner_mm', 'the inner radius of a clutch lining must be below the outer radius');
    const torque = faces * friction * clamp * (outer + inner) / 2 / 1000;
    return {
      values: [torque],
      worked: `${withUnit(torque, 'N·m', 3)}: lining ${shown(inner)} to ${withUnit(outer, 'mm')} radius, friction ${shown(friction, 3)}`,
      notes: [],
    };
  };

  const shaftPower = (read) => {
    const [torque, speed] = [read.number('torque'), read.number('speed')];
    requirePositive({ torque_nm: torque, speed_rpm: speed });
    const power = torque * 2 * Math.PI * speed / 60;
    return { values: [power], worked: `${withUnit(power, 'W', 3)}: ${withUnit(torque, 'N·m', 3)} at ${withUnit(speed, 'rpm')}`, notes: [] };
  };

  const shaftTorque = (read) => {
    const [power, speed] = [read.number('shaft-power'), read.number('speed')];
    requirePositive({ shaft_power_w: power, speed_rpm: speed });
    const torque = power / (2 * Math.PI * speed / 60);
    return { values: [torque], worked: `${withUnit(torque, 'N·m', 3)}: ${withUnit(power, 'W', 3)} at ${withUnit(speed, 'rpm')}`, notes: [] };
  };

  /* ---- engine, fuel, oil -------------------------------------------------------------------------------------------------------- */

  const halfToEven = (number) => {
    const below = Math.floor(number);
    if (number - below !== 0.5) return Math.round(number);
    return below % 2 ? below + 1 : below;
  };

  const displacement = (read) => {
    const [bore, stroke, cylinders] = [read.number('bore'), read.number('stroke'), read.count('cylinders')];
    requirePositive({ bore_mm: bore, stroke_mm: stroke });
    requireCount({ cylinders });
    const swept = Math.PI / 4 * square(bore) * stroke * cylinders / 1000;
    requirePositive({ swept_cm3: swept });
    const nominal = halfToEven(swept);
    const handheld = read.name('use') === 'handheld';
    const limits = handheld ? [[20, 'III'], [50, 'IV']] : [[66, 'I-A'], [100, 'I-B'], [225, 'I']];
    const [, name] = limits.find(([limit]) => nominal < limit) || [0, handheld ? 'V' : 'II'];
    return {
      values: [swept, nominal, name],
      worked: `${withUnit(swept, 'cm³')}: bore ${shown(bore)}, stroke ${withUnit(stroke, 'mm')}, ${cylinders} cylinder${many(cylinders)}, class ${name}`,
      notes: [],
    };
  };

  const compressionRatio = (read) => {
    const [swept, clearance] = [read.number('swept'), read.number('clearance')];
    requirePositive({ swept_cm3: swept, clearance_cm3: clearance });
    const ratio = (swept + clearance) / clearance;
    return { values: [ratio], worked: `${shown(ratio, 3)}:1: swept ${shown(swept)}, clearance ${withUnit(clearance, 'cm³')}`, notes: [] };
  };

  const leakDown = (read) => {
    const [supply, cylinder] = [read.number('supply-pressure'), read.number('cylinder-pressure')];
    requirePositive({ supply_pressure: supply });
    requireNotNegative({ cylinder_pressure: cylinder });
    if (cylinder > supply) {
      throw impossible('cylinder_pressure', `the cylinder cannot hold ${shown(cylinder)} when ${shown(supply)} is supplied`);
    }
    const loss = 100 * (1 - cylinder / supply);
    const { leakWatch, leakRepair, leakSuspect } = given();
    const verdict = loss <= leakWatch ? 'good' : loss <= leakRepair ? 'watch' : 'repair';
    const path = read.has('heard-at') ? bench.data().leakPaths.find(([name]) => name === read.name('heard-at')) : null;
    return {
      values: [loss, verdict, path ? `${path[1]}: ${path[2]}` : 'listen where the air comes out'],
      worked: `${shown(loss, 3)} % loss, ${verdict}: ${shown(cylinder)} of ${withUnit(supply, 'psi')} held`,
      notes: [
        'Good, watch and repair (20 and 40 %) are common practice, no source.',
        `Aviation calls a loss above ${shown(leakSuspect)} % cause to suspect the cylinder (FAA AC 43.13-1B): run the engine and measure again.`,
      ],
    };
  };

  const requireRatio = (ratio) => {
    requireFinite({ ratio });
    if (!(ratio >= 10 && ratio <= 200)) throw impossible('ratio', `a two-stroke mix lies between 10:1 and 200:1, and ${general(ratio)}:1 does not`);
  };

  const oilMix = (read) => {
    const [fuel, ratio] = [read.number('fuel'), read.number('ratio')];
    requirePositive({ fuel_l: fuel });
    requireRatio(ratio);
    const oil = fuel * 1000 / ratio;
    return { values: [oil, 100 * (1 / (ratio + 1))], worked: `${withUnit(oil, 'mL')} oil: ${withUnit(fuel, 'L')} gasoline at ${shown(ratio)}:1`, notes: [] };
  };

  const fuelForOil = (read) => {
    const [oil, ratio] = [read.number('oil'), read.number('ratio')];
    requirePositive({ oil_ml: oil });
    requireRatio(ratio);
    const fuel = oil * ratio / 1000;
    return { values: [fuel], worked: `${withUnit(fuel, 'L')} gasoline: ${withUnit(oil, 'mL')} oil at ${shown(ratio)}:1`, notes: [] };
  };

  const stabiliserDose = (read) => {
    const [fuel, labelDose, labelFuel] = ['fuel', 'label-dose', 'label-fuel'].map(read.number);
    requirePositive({ fuel_l: fuel, label_dose_ml: labelDose, label_fuel_l: labelFuel });
    if (labelDose > 100 * labelFuel) throw impossible('label_dose_ml', 'a dose above a tenth of the fuel is no stabiliser rate');
    const dose = fuel * labelDose / labelFuel;
    return { values: [dose], worked: `${withUnit(dose, 'mL', 3)}: ${withUnit(fuel, 'L')} fuel, label ${withUnit(labelDose, 'mL', 3)} to ${withUnit(labelFuel, 'L')}`, notes: [] };
  };

  const ethanolTopUp = (read) => {
    const [tank, tankShare, added, addedShare] = ['tank', 'tank-ethanol', 'added', 'added-ethanol'].map(read.number);
    requireNotNegative({ tank_l: tank, added_l: added });
    requireBetween(0, 100, { tank_ethanol_percent: tankShare, added_ethanol_percent: addedShare });
    if (tank + added <= 0) throw impossible('added_l', 'there is no fuel at all: both volumes are zero');
    const ethanol = tankShare + added / (tank + added) * (addedShare - tankShare);
    const verdict = read.name('certified') === 'flexible-fuel' || ethanol <= given().ethanolCeiling + 1e-6 ? 'allowed' : 'not allowed';
    return {
      values: [ethanol, verdict],
      worked: `${shown(ethanol, 3)} % ethanol, ${verdict}: ${withUnit(tank, 'L')} of ${shown(tankShare, 3)} % and ${withUnit(added, 'L')} of ${shown(addedShare, 3)} %`,
      notes: [],
    };
  };

  const oilGrade = (read) => {
    const lowest = read.number('lowest');
    requireBetween(-60, 60, { lowest_c: lowest });
    const winter = bench.data().winterGrades;
    const tested = winter.filter(([, cranking]) => cranking <= lowest).map(([name]) => name);
    const grades = lowest > 4 ? ['SAE 30'] : lowest >= -18 ? ['10W-30', '5W-30'] : ['5W-30', '0W-30'];
    const used = grades.map((grade) => grade.split('-')[0]);
    const untested = lowest > 4 ? [] : winter.filter(([name]) => used.includes(name) && !tested.includes(name));
    const words = grades.join(' or ');
    return {
      values: [words, tested.join(', ') || 'none'],
      worked: `${words} down to ${withUnit(lowest, '°C', 3)} (common practice, no source)`,
      notes: untested.map(([name, cranking]) => `SAE J300 tests ${name} for cranking only down to ${shown(cranking)} °C.`),
    };
  };

  /* ---- electrics ------------------------------------------------------------------------------------------------------------------ */

  const requireTemperatures = (given) => {
    requireFinite(given);
    Object.entries(given).forEach(([argument, temperature]) => {
      if (temperature < -273.15) throw impossible(argument, `${shown(temperature)} °C is below absolute zero`);
    });
  };
  const relativeResistance = (argument, temperature) => {
    requireTemperatures({ [argument]: temperature });
    const relative = 1 + given().copper * (temperature - 20);
    if (relative < 1e-6) throw impossible(argument, `by this straight line no resistance is left at ${shown(temperature)} °C`);
    return relative;
  };

  const resistanceAtTemperature = (read) => {
    const [resistance, start, end] = ['resistance', 'from', 'to'].map(read.number);
    requirePositive({ resistance_ohm: resistance });
    const hot = relativeResistance('to_c', end);
    const value = resistance * hot / relativeResistance('from_c', start);
    requireTemperatures({ from_c: start, to_c: end });
    [['from_c', start], ['to_c', end]].forEach(([argument, temperature]) => {
      if (temperature - given().intercept < 1e-6) throw impossible(argument, `copper has no resistance left at ${shown(temperature)} °C by this rule`);
    });
    return {
      values: [value, resistance * (end - given().intercept) / (start - given().intercept)],
      worked: `${withUnit(value, 'Ω')} at ${withUnit(end, '°C', 3)}: copper, ${withUnit(resistance, 'Ω')} at ${withUnit(start, '°C', 3)}`,
      notes: [],
    };
  };

  const windingTemperature = (read) => {
    const [cold, start, hot] = ['cold', 'cold-temperature', 'hot'].map(read.number);
    requirePositive({ cold_ohm: cold, hot_ohm: hot });
    const relative = relativeResistance('cold_temperature_c', start);
    const temperature = start + (hot / cold - 1) * relative / given().copper;
    return {
      values: [temperature, temperature - start],
      worked: `${withUnit(temperature, '°C', 3)}: copper, ${withUnit(cold, 'Ω')} at ${withUnit(start, '°C', 3)}, now ${withUnit(hot, 'Ω')}`,
      notes: [],
    };
  };

  const currentAndPower = (read) => {
    const [voltage, resistance] = [read.number('voltage'), read.number('resistance')];
    requirePositive({ voltage_v: voltage, resistance_ohm: resistance });
    const current = voltage / resistance;
    const power = voltage * current;
    return {
      values: [current, power],
      worked: `${withUnit(current, 'A', 3)}, ${withUnit(power, 'W', 3)}: ${withUnit(voltage, 'V', 3)} across ${withUnit(resistance, 'Ω', 3)}`,
      notes: [],
    };
  };

  const loadCurrent = (read) => {
    const [power, voltage] = [read.number('power'), read.number('voltage')];
    requirePositive({ power_w: power, voltage_v: voltage });
    const current = power / voltage;
    return { values: [current, voltage / current], worked: `${withUnit(current, 'A', 3)}: ${withUnit(power, 'W', 3)} at ${withUnit(voltage, 'V', 3)}`, notes: [] };
  };

  const requirePoles = (poles) => {
    requireCount({ poles });
    if (poles % 2) throw impossible('poles', `magnet poles come in pairs, and ${poles} is odd`);
  };

  const generatorFrequency = (read) => {
    const [poles, speed] = [read.count('poles'), read.number('speed')];
    requirePoles(poles);
    requirePositive({ speed_rpm: speed });
    const frequency = poles * speed / 120;
    return { values: [frequency], worked: `${withUnit(frequency, 'Hz')}: ${poles} poles at ${withUnit(speed, 'rpm')}`, notes: [] };
  };

  const generatorSpeed = (read) => {
    const [poles, frequency] = [read.count('poles'), read.number('frequency')];
    requirePoles(poles);
    requirePositive({ frequency_hz: frequency });
    const speed = 120 * frequency / poles;
    return { values: [speed], worked: `${withUnit(speed, 'rpm')}: ${poles} poles, ${withUnit(frequency, 'Hz')}`, notes: [] };
  };

  const chargeAt = (voltage) => {
    const table = bench.data().restVoltage;
    if (voltage <= table[0][0]) return 0;
    for (let row = 1; row < table.length; row += 1) {
      const [[lowVolts, low], [highVolts, high]] = [table[row - 1], table[row]];
      if (voltage <= highVolts) return low + (high - low) * (voltage - lowVolts) / (highVolts - lowVolts);
    }
    return 100;
  };

  const batteryCharge = (read) => {
    const voltage = read.number('rest-voltage');
    requireBetween(0, 20, { rest_voltage_v: voltage });
    const [lowest, likely, highest] = [voltage - given().restBand, voltage, voltage + given().restBand].map(chargeAt);
    return {
      values: [likely, lowest, highest],
      worked: `${shown(likely, 3)} % charged (${shown(lowest, 3)} to ${shown(highest, 3)} %): ${withUnit(voltage, 'V')} at rest`,
      notes: [],
    };
  };

  /* ---- other units of a kind: the first output has the input's own unit ------------------------------------------------------------ */

  const unitsOf = (kind) => (read, outputs) => {
    const number = read.number(kind);
    const own = bench.unitNamed(kind, outputs[0].unit);
    const values = outputs.map(({ unit }, index) =>
      (index ? bench.exact.number(bench.converted([number, 0], own, bench.unitNamed(kind, unit))) : number));
    const all = values.map((value, index) => withUnit(value, outputs[index].unit));
    return { values, worked: `${all[0]}: ${all.slice(1).join(', ')}`, notes: [] };
  };

  bench.wordsAndUnit = wordsAndUnit;
  bench.formulas = {
    'bolt-torque': boltTorque, 'bolt-preload': boltPreload, 'turn-of-nut': turnOfNut, 'nut-factor': nutFactorFromFriction,
    'thread-sizes': threadSizes, 'bolt-strength': boltStrength, 'adapter-setting': adapterSetting, 'adapter-torque': adapterTorque,
    'tightening-passes': tighteningPasses, 'prevailing-torque': prevailingTorque, 'reduced-torque': reducedTorque,
    'shear-release': shearRelease, 'shear-swap': shearSwap, 'shear-stress': shearStress, 'belt-length': beltLength,
    'crossed-belt-length': crossedBeltLength, 'belt-centre-distance': beltCentreDistance, 'pulley-speed': pulleySpeed,
    'surface-speed': surfaceSpeed, 'throwing-distance': throwingDistance, 'belt-power': beltPower, 'gear-train': gearTrain,
    'gearbox-speed': gearboxSpeed, 'worm-gear': wormGear, 'chain-drive': chainDrive, 'friction-disc': frictionDisc,
    'clutch-torque': clutchTorque, 'shaft-power': shaftPower, 'shaft-torque': shaftTorque, displacement,
    'compression-ratio': compressionRatio, 'leak-down': leakDown, 'oil-mix': oilMix, 'fuel-for-oil': fuelForOil,
    'stabiliser-dose': stabiliserDose, 'ethanol-top-up': ethanolTopUp, 'oil-grade': oilGrade,
    'resistance-at-temperature': resistanceAtTemperature, 'winding-temperature': windingTemperature, current: currentAndPower,
    'load-current': loadCurrent, 'generator-frequency': generatorFrequency, 'generator-speed': generatorSpeed,
    'battery-charge': batteryCharge,
  };
  ['torque', 'length', 'volume', 'pressure', 'force', 'mass', 'temperature', 'speed', 'power', 'displacement'].forEach((kind) => {
    bench.formulas[`${kind}-units`] = unitsOf(kind);
  });
})();
