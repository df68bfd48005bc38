/* Checks the answers of the quiz, and reports them to a learning system by SCORM 1.2 where the page runs in one. */
(function () {
  "use strict";

  var form = document.querySelector("[data-quiz]");
  var api = findApi();
  var open = false;

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
    var status = open ? api.LMSGetValue("cmi.core.lesson_status") : "";
    if (open && (status === "not attempted" || status === "unknown" || status === "")) {
      api.LMSSetValue("cmi.core.lesson_status", "incomplete");
      api.LMSCommit("");
    }
  }

  function end() {
    if (!open) return;
    open = false;
    api.LMSFinish("");
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
    api.LMSSetValue("cmi.core.score.min", "0");
    api.LMSSetValue("cmi.core.score.max", "100");
    api.LMSSetValue("cmi.core.score.raw", String(percent));
    api.LMSSetValue("cmi.core.lesson_status", passed ? "passed" : "failed");
    return api.LMSCommit("") === "true"
      ? " The result has been reported."
      : " The result could not be reported: tell your instructor.";
  }

  form.addEventListener("submit", function (event) {
    event.preventDefault();
    var marks = Array.from(form.querySelectorAll("[data-question]")).map(mark);
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
