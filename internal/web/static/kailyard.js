// The slider of the plot: chooses a day and asks for the page of that day. Without this script the
// date field and the links do the same.
"use strict";
(function () {
  var form = document.querySelector(".dayform");
  if (!form) return;
  var slide = document.getElementById("slide");
  var day = document.getElementById("day");
  slide.parentElement.hidden = false;
  var first = Number(form.dataset.first);
  function iso() {
    return new Date((first + Number(slide.value)) * 86400000).toISOString().slice(0, 10);
  }
  slide.addEventListener("input", function () {
    day.value = iso();
    slide.setAttribute("aria-valuetext", day.value);
  });
  slide.addEventListener("change", function () {
    day.value = iso();
    form.requestSubmit();
  });
})();
