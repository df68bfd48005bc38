/* A machine's service plan as a calendar file (iCalendar, RFC 5545), made in the page: nothing is asked of any network.
   The file is the same, octet for octet, as `shearpin calendar` writes. Without this script the plan stands as a table. */
(() => {
  'use strict';

  const form = document.querySelector('form[data-service-calendar]');
  const block = document.querySelector('script[data-service-plan]');
  if (!form || !block) return;
  const plan = JSON.parse(block.textContent);
  const said = form.querySelector('[role="status"]');
  const DAY = 86400000;
  const MAX_OCTETS = 75;

  /* ---- days: whole numbers since 1970, so that no time zone plays a part ------------------------------------------------ */

  const dayOf = (text) => {
    const parts = /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/.exec(text);
    if (!parts) return null;
    const [year, month, day] = parts.slice(1).map(Number);
    const date = new Date(Date.UTC(year, month - 1, day));
    const real = year >= 1900 && year < 9000 && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
    return real ? date.getTime() / DAY : null;
  };
  const iso = (day) => new Date(day * DAY).toISOString().slice(0, 10);
  const basic = (day) => iso(day).replace(/-/g, '');

  const storageDay = (start) => {
    const date = new Date(start * DAY);
    const month = date.getUTCMonth() + plan.months;
    const last = new Date(Date.UTC(date.getUTCFullYear(), month + 1, 0)).getUTCDate();
    return Date.UTC(date.getUTCFullYear(), month, Math.min(date.getUTCDate(), last)) / DAY;
  };

  /* ---- what falls due when ---------------------------------------------------------------------------------------------- */

  const work = (occasion) => occasion.lines.map((line) => `- ${line}`);

  const number = (hundredths) => {
    const rest = String(hundredths % 100).padStart(2, '0');
    return `${Math.floor(hundredths / 100)}.${rest}`.replace(/\.?0+$/, '');
  };

  const yearly = (day, years) => {
    const interval = years === 1 ? '' : `;INTERVAL=${years}`;
    const leap = iso(day).endsWith('-02-29') ? ';BYMONTH=2;BYMONTHDAY=-1' : '';
    return `FREQ=YEARLY${interval}${leap}`;
  };

  const seasonal = (occasion, start, storage, weekly) => {
    const lines = work(occasion);
    if (occasion.season === 'start' && occasion.years === 1) {
      if (weekly === null && plan.byHours.length) lines.push('By running hours:', ...plan.byHours.map((line) => `- ${line}`));
      if (plan.byCondition.length) lines.push('When it is due:', ...plan.byCondition.map((line) => `- ${line}`));
    }
    const day = occasion.season === 'start' ? start : storage;
    const description = [...lines, plan.foreword].join('\n');
    return { uid: occasion.uid, day, summary: occasion.summary, description, rule: yearly(day, occasion.years) };
  };

  const byHours = (occasion, start, storage, weekly) => {
    const events = [];
    let previous = 0;
    for (let times = 1; ; times += 1) {
      const days = Math.floor((times * occasion.hundredths * 7) / weekly);
      if (days >= storage - start) return events;
      if (days !== previous) {
        previous = days;
        const hours = number(times * occasion.hundredths);
        const since = `About ${hours} running hours after ${iso(start)}, at ${number(weekly)} h a week.`;
        const description = [since, 'The hours decide, not the date.', ...work(occasion), plan.foreword].join('\n');
        events.push({ uid: `${occasion.uid}-${times}`, day: start + days, summary: occasion.summary, description, rule: '' });
      }
    }
  };

  const eventsOf = (start, storage, weekly) => [].concat(...plan.occasions.map((occasion) => {
    if (!occasion.hundredths) return [seasonal(occasion, start, storage, weekly)];
    return weekly === null ? [] : byHours(occasion, start, storage, weekly);
  }));

  /* ---- the file ---------------------------------------------------------------------------------------------------------- */

  const say = window.shearpinSay || ((english) => english);
  const escaped = (text) => text.split('\n').map(say).join('\n').replace(/[\u0000-\u0009\u000b-\u001f\u007f]/g, ' ').replace(/[\\;,]/g, '\\$&').replace(/\n/g, '\\n');

  const octetsOf = (sign) => {
    const code = sign.codePointAt(0);
    if (code < 0x80) return 1;
    if (code < 0x800) return 2;
    return code < 0x10000 ? 3 : 4;
  };

  const folded = (line) => {
    const pieces = [''];
    let octets = 0;
    for (const sign of line) {
      const size = octetsOf(sign);
      if (octets + size > MAX_OCTETS) {
        pieces.push(' ');
        octets = 1;
      }
      pieces[pieces.length - 1] += sign;
      octets += size;
    }
    return pieces.join('\r\n');
  };

  const calendarText = (events, start) => {
    const lines = ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Shearpin//Service plan//EN', 'CALSCALE:GREGORIAN'];
    lines.push(`NAME:${escaped(`Service plan: ${plan.title}`)}`);
    events.forEach((event) => {
      lines.push('BEGIN:VEVENT', `UID:${event.uid}`, `DTSTAMP:${basic(start)}T000000Z`, `DTSTART;VALUE=DATE:${basic(event.day)}`);
      if (event.rule) lines.push(`RRULE:${event.rule}`);
      lines.push(`SUMMARY:${escaped(event.summary)}`, `DESCRIPTION:${escaped(event.description)}`);
      lines.push('TRANSP:TRANSPARENT', 'END:VEVENT');
    });
    return [...lines, 'END:VCALENDAR'].map((line) => `${folded(line)}\r\n`).join('');
  };

  /* ---- the form ---------------------------------------------------------------------------------------------------------- */

  const field = (name) => form.elements.namedItem(name);

  const refuse = (name, words) => {
    field(name).setAttribute('aria-invalid', 'true');
    field(name).focus();
    said.textContent = words;
  };

  const weeklyHours = (text) => {
    if (text === '') return null;
    const hundredths = /^[0-9]{1,3}([.,][0-9]{1,2})?$/.test(text) ? Math.round(Number(text.replace(',', '.')) * 100) : 0;
    return hundredths >= 1 && hundredths <= 16800 ? hundredths : NaN;
  };

  const save = (text) => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([text], { type: 'text/calendar' }));
    link.download = `${plan.machine}-service.ics`;
    link.hidden = true;
    form.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    return link.download;
  };

  form.addEventListener('submit', (event) => {
    event.preventDefault();
    ['from', 'storage', 'hours'].forEach((name) => field(name).removeAttribute('aria-invalid'));
    const start = dayOf(field('from').value);
    if (start === null) return refuse('from', 'Give the first day of the season.');
    if (field('storage').validity.badInput) return refuse('storage', 'This is no whole date.');
    const storage = field('storage').value ? dayOf(field('storage').value) : storageDay(start);
    if (storage === null || storage <= start || storage - start > 366) {
      return refuse('storage', 'The day of storage must be within a year after the first day.');
    }
    const weekly = weeklyHours(field('hours').value.trim());
    if (Number.isNaN(weekly)) return refuse('hours', 'Give a number of hours up to 168, such as 4 or 2.5.');
    const events = eventsOf(start, storage, weekly);
    said.textContent = `${save(calendarText(events, start))}: ${events.length} events, storage on ${iso(storage)}.`;
    return undefined;
  });
  form.hidden = false;
})();
