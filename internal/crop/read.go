package crop

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/quantity"
)

// limits are the plausible values of a field, in the program's units. Outside them the file has a
// slip of the pen, not an unusual crop.
type limits struct{ low, high float64 }

// figure reads one value, records it with its source and quality, and returns it in the program's
// unit. A field that is absent is a fault when it is required.
func (r *reading) figure(field string, d *datum, dim *dimension, within limits, required bool) (Range, bool) {
	if d == nil {
		if required {
			r.fault(field, "is missing; write it as %s, with src and q", dim.example)
		}
		return Range{}, false
	}
	text, ok := r.record(field, d)
	if !ok {
		return Range{}, false
	}
	parsed, err := parseAmount(text, dim.example)
	if err != nil {
		r.fault(field, "%v", err)
		return Range{}, false
	}
	value, ok := dim.convert(parsed)
	if !ok {
		r.fault(field, "%q is not %s; write it like %s", text, dim.name, dim.example)
		return Range{}, false
	}
	if value.Low < within.low || value.High > within.high {
		r.fault(field, "%q is not plausible: it must lie between %s and %s%s; check the value and its unit",
			text, plain(within.low), plain(within.high), dim.own)
		return Range{}, false
	}
	return value, true
}

// record checks a value's source and quality and adds it to the crop's figures; text is the value
// with its unit, as printed.
func (r *reading) record(field string, d *datum) (text string, ok bool) {
	switch v := d.V.(type) {
	case string:
		text = strings.TrimSpace(v)
	case int64:
		text = strconv.FormatInt(v, 10)
	case float64:
		text = strconv.FormatFloat(v, 'f', -1, 64)
	case []any:
		parts := make([]string, len(v))
		for i, each := range v {
			parts[i] = fmt.Sprint(each)
		}
		text = strings.Join(parts, ", ")
	default:
		r.fault(field, "has no value; write v = \"…\" as the source prints it, with its unit")
		return "", false
	}
	if d.Unit != "" {
		text += " " + d.Unit
	}
	switch d.Q {
	case Published, Estimated:
		if strings.TrimSpace(d.Src) == "" {
			r.fault(field, "is called %s and has no source; name its key with src, or call it from memory or common practice", d.Q)
		}
	case Own, CommonPractice, FromMemory:
	case "":
		r.fault(field, "does not say how far it can be trusted; add q = one of %s", qualityNames())
	default:
		r.fault(field, "q = %q is not known; it is one of %s", d.Q, qualityNames())
	}
	r.crop.Figures = append(r.crop.Figures, Figure{field, text, strings.TrimSpace(d.Src), d.Q, strings.TrimSpace(d.Note)})
	return text, true
}

// qualityNames are the words a file may use, in quotes.
func qualityNames() string {
	var names []string
	for _, q := range Qualities() {
		names = append(names, strconv.Quote(string(q)))
	}
	return strings.Join(names, ", ")
}

// inFileOrder sorts the figures by where they stand in the file.
func (r *reading) inFileOrder() {
	slices.SortStableFunc(r.crop.Figures, func(a, b Figure) int {
		x, y := r.placeOf(a.Field), r.placeOf(b.Field)
		return cmp.Or(cmp.Compare(x.line, y.line), cmp.Compare(x.column, y.column))
	})
}

func plain(value float64) string { return strconv.FormatFloat(value, 'g', 6, 64) }

func (r *reading) celsius(field string, d *datum, within limits, required bool) quantity.Celsius {
	value, _ := r.figure(field, d, &temperature, within, required)
	return quantity.Celsius(tidy(value.Mid()))
}

func (r *reading) celsiusOrNone(field string, d *datum, within limits) *quantity.Celsius {
	value, ok := r.figure(field, d, &temperature, within, false)
	if !ok {
		return nil
	}
	celsius := quantity.Celsius(tidy(value.Mid()))
	return &celsius
}

func (r *reading) metres(field string, d *datum, within limits, required bool) quantity.Metre {
	value, _ := r.figure(field, d, &length, within, required)
	return quantity.Metre(tidy(value.Mid()))
}

func (r *reading) hour(field string, d *datum, within limits, required bool) quantity.Hour {
	value, _ := r.figure(field, d, &hours, within, required)
	return quantity.Hour(tidy(value.Mid()))
}

func (r *reading) hourOrNone(field string, d *datum, within limits) *quantity.Hour {
	value, ok := r.figure(field, d, &hours, within, false)
	if !ok {
		return nil
	}
	hour := quantity.Hour(value.Mid())
	return &hour
}

func (r *reading) scalar(field string, d *datum, dim *dimension, within limits, required bool) float64 {
	value, _ := r.figure(field, d, dim, within, required)
	return tidy(value.Mid())
}

// words trims a text field and records a fault when it is empty.
func (r *reading) words(field, text, example string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		r.fault(field, "is missing; write it like %s", example)
	}
	return text
}

// oneOf records a fault when a word is not one of a list.
func oneOf[T ~string](r *reading, field string, word T, list ...T) T {
	if slices.Contains(list, word) {
		return word
	}
	names := make([]string, len(list))
	for i, each := range list {
		names[i] = strconv.Quote(string(each))
	}
	if word == "" {
		r.fault(field, "is missing; it is one of %s", strings.Join(names, ", "))
	} else {
		r.fault(field, "%q is not known; it is one of %s", word, strings.Join(names, ", "))
	}
	return word
}
