/* Checks the answers of the quiz, and reports them to a learning system by SCORM 1.2 where the page runs in one. */
(function () {
  "use strict";

  var form = document.querySelector("[data-quiz]");
  var api = findApi();
  var open = false;
  var checked = false;
  var passedBefore = false;
  var began = Date.now();

  /* The system offers `API` in a frame around this one, or in the window that opened it. */
  function findApi() {
    var places = [window, window.opener];
    for (var place of places) {
      for (var depth = 0; place && depth < 20; depth += 1) {
        try {
          if (place.API) return place.API;
        } catch (error) {
          break; /* a frame of another site */
        }
        if (!place.parent || place.parent === place) break;
        place = place.parent;
      }
    }
    return null;
  }

  function begin() {
    if (!api) return;
    open = api.LMSInitialize("") === "true";
    if (!open) return;
    var status = api.LMSGetValue("cmi.core.lesson_status");
    passedBefore = status === "passed";
    if (status === "not attempted" || status === "unknown" || status === "") {
      api.LMSSetValue("cmi.core.lesson_status", "incomplete");
      api.LMSCommit("");
    }
    choose(api.LMSGetValue("cmi.suspend_data"));
  }

  /* Leaving is no end: the answers so far come back the next time. */
  function end() {
    if (!open) return;
    open = false;
    api.LMSSetValue("cmi.core.exit", checked ? "" : "suspend");
    api.LMSSetValue("cmi.core.session_time", clock(Date.now() - began));
    api.LMSCommit("");
    api.LMSFinish("");
  }

  function clock(milliseconds) {
    var seconds = Math.round(milliseconds / 1000);
    var two = function (number) { return String(number).padStart(2, "0"); };
    return two(Math.floor(seconds / 3600)) + ":" + two(Math.floor(seconds / 60) % 60) + ":" + two(seconds % 60);
  }

  function questions() {
    return Array.from(form.querySelectorAll("[data-question]"));
  }

  /* Which questions these are, in few signs: answers to others must not come back. */
  function markOfQuestions() {
    var sum = 0;
    questions().forEach(function (question) {
      for (var sign of question.dataset.question + "," + question.dataset.answer) sum = (sum * 31 + sign.charCodeAt(0)) % 1000000007;
    });
    return sum.toString(36);
  }

  function chosen() {
    return questions().map(function (question) {
      var input = question.querySelector("input:checked");
      return input ? input.value : "-";
    }).join("");
  }

  function choose(kept) {
    var parts = (kept || "").split(":");
    if (parts[0] !== markOfQuestions() || !parts[1]) return;
    questions().forEach(function (question, number) {
      question.querySelectorAll("input").forEach(function (input) {
        if (input.value === parts[1][number]) input.checked = true;
      });
    });
  }

  function keep() {
    if (!open) return;
    api.LMSSetValue("cmi.suspend_data", markOfQuestions() + ":" + chosen());
    api.LMSCommit("");
  }

  function mark(question) {
    var chosen = question.querySelector("input:checked");
    var answer = question.dataset.answer;
    var right = Boolean(chosen) && chosen.value === answer;
    var verdict = question.querySelector("[data-verdict]");
    verdict.textContent = right ? "Right." : chosen ? "Not right." : "No answer.";
    verdict.hidden = false;
    question.querySelector("[data-page]").hidden = false;
    return { id: question.dataset.question, chosen: chosen ? chosen.value : "", answer: answer, right: right };
  }

  function report(marks, percent, passed) {
    if (!open) return "";
    var first = Number(api.LMSGetValue("cmi.interactions._count")) || 0;
    marks.forEach(function (item, index) {
      var row = "cmi.interactions." + (first + index) + ".";
      api.LMSSetValue(row + "id", item.id.replace(/[^A-Za-z0-9]/g, "_"));
      api.LMSSetValue(row + "type", "choice");
      api.LMSSetValue(row + "correct_responses.0.pattern", item.answer.toLowerCase());
      if (item.chosen) api.LMSSetValue(row + "student_response", item.chosen.toLowerCase());
      api.LMSSetValue(row + "result", item.right ? "correct" : "wrong");
    });
    if (passedBefore && !passed) {
      api.LMSCommit("");
      return " You have passed before, and that stays.";
    }
    passedBefore = passed;
    api.LMSSetValue("cmi.core.score.min", "0");
    api.LMSSetValue("cmi.core.score.max", "100");
    api.LMSSetValue("cmi.core.score.raw", String(percent));
    api.LMSSetValue("cmi.core.lesson_status", passed ? "passed" : "failed");
    return api.LMSCommit("") === "true"
      ? " The result has been reported."
      : " The result could not be reported: tell your instructor.";
  }

  form.addEventListener("change", keep);
  form.addEventListener("submit", function (event) {
    event.preventDefault();
    checked = true;
    var marks = questions().map(mark);
    var right = marks.filter(function (item) { return item.right; }).length;
    var percent = marks.length ? Math.round((100 * right) / marks.length) : 0;
    var passed = percent >= Number(form.dataset.pass);
    var told = form.querySelector("[data-result]");
    told.textContent = right + " of " + marks.length + " right, " + percent + " %: " +
      (passed ? "passed." : "not passed.") + report(marks, percent, passed);
    told.hidden = false;
    told.scrollIntoView({ block: "center" });
  });

  window.addEventListener("pagehide", end);
  begin();
})();
