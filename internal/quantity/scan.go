package quantity

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// tidy brings what keyboards and pages produce to one spelling: lower case, plain blanks, plain
// minus, and straight foot and inch marks.
func tidy(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) || r == '\u202f' || r == '\u2009' || r == '\u00a0':
			return ' '
		case r == '−' || r == '–':
			return '-'
		case r == '′' || r == '’' || r == '‘' || r == 'ʹ':
			return '\''
		case r == '″' || r == '”' || r == '“' || r == 'ʺ':
			return '"'
		case r == '⁄':
			return '/'
		}
		return unicode.ToLower(r)
	}, text)
	text = strings.ReplaceAll(text, "''", `"`)
	return strings.Join(strings.Fields(text), " ")
}

// fractionSigns are the single characters for fractions of an inch.
var fractionSigns = map[rune]float64{
	'½': 1. / 2, '¼': 1. / 4, '¾': 3. / 4, '⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8, '⅓': 1. / 3, '⅔': 2. / 3,
}

// scanNumber reads a number at the start of a tidied text: "18", "1.5", "2,5", "½", "1½", "1 1/2",
// "3/4". It gives the rest of the text, or a clause that says what is wrong.
func scanNumber(text string) (value float64, rest, wrong string) {
	whole, rest, wrong := scanDecimal(text)
	if wrong != "" {
		return 0, "", wrong
	}
	hasWhole := rest != text
	if part, after, ok := scanFraction(strings.TrimLeft(rest, " ")); ok {
		if !hasWhole {
			return part, after, ""
		}
		return whole + part, after, ""
	}
	if !hasWhole {
		return 0, "", "no number is where one is wanted"
	}
	if after, ok := strings.CutPrefix(rest, "/"); ok { // 3/4: the whole was a numerator
		below, after, wrong := scanDecimal(after)
		if wrong == "" && below > 0 {
			return whole / below, after, ""
		}
	}
	return whole, rest, ""
}

// scanFraction reads "½" or "1/2" with a small whole numerator and denominator.
func scanFraction(text string) (value float64, rest string, ok bool) {
	for sign, v := range fractionSigns {
		if after, found := strings.CutPrefix(text, string(sign)); found {
			return v, after, true
		}
	}
	above, after := leadingDigits(text)
	after, slash := strings.CutPrefix(after, "/")
	below, after := leadingDigits(after)
	if !slash || above == "" || below == "" || len(above) > 3 || len(below) > 3 {
		return 0, "", false
	}
	a, _ := strconv.Atoi(above)
	b, _ := strconv.Atoi(below)
	if a == 0 || b == 0 || a >= b {
		return 0, "", false
	}
	return float64(a) / float64(b), after, true
}

// scanDecimal reads digits with a point or a decimal comma. A comma before exactly three digits
// may group thousands or mark a decimal, and is refused. No number leaves rest equal to text.
func scanDecimal(text string) (value float64, rest, wrong string) {
	whole, after := leadingDigits(text)
	number := whole
	if len(after) > 0 && (after[0] == '.' || after[0] == ',') {
		decimals, end := leadingDigits(after[1:])
		switch {
		case decimals == "" && (whole == "" || after[0] == ','):
		case after[0] == ',' && len(decimals) == 3 && strings.Trim(whole, "0") != "":
			return 0, "", fmt.Sprintf("the comma in %s,%s may mean thousands or a decimal; write a point or leave it out", whole, decimals)
		default:
			number, after = whole+"."+decimals, end
		}
	}
	if number == "" {
		return 0, text, ""
	}
	if len(number) > 340 {
		return 0, "", "the number has too many digits"
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return 0, "", fmt.Sprintf("%s cannot be read as a number", number)
	}
	return v, after, ""
}

func leadingDigits(text string) (digits, rest string) {
	i := 0
	for i < len(text) && text[i] >= '0' && text[i] <= '9' {
		i++
	}
	return text[:i], text[i:]
}

// scanUnit reads a unit up to the next number. Digits that belong to the unit stay with it: those
// of "per 100 sq ft" and "/100 sq ft" always, and the power of "m2" where powers are wanted, so
// that 5ft2 is an area to one reader and five feet two inches to the other.
func scanUnit(text string, powers bool) (name, rest string) {
	text = strings.TrimLeft(text, " ")
	if text != "" && (text[0] == '\'' || text[0] == '"') {
		return text[:1], strings.TrimLeft(text[1:], " ")
	}
	for i, r := range text {
		if i == 0 && startsNumber(r) {
			return "", text
		}
		if !startsNumber(r) {
			continue
		}
		before := strings.TrimRight(text[:i], " ")
		last := text[i-1]
		divisor := strings.HasSuffix(before, "/") || strings.HasSuffix(before, " per") || strings.HasSuffix(before, "^")
		power := powers && (r == '2' || r == '3') && isLetter(last)
		if divisor || power || r == '.' || isDigit(last) {
			continue
		}
		return before, text[i:]
	}
	return strings.TrimSpace(text), ""
}

func startsNumber(r rune) bool {
	_, sign := fractionSigns[r]
	return sign || r >= '0' && r <= '9' || r == '.'
}

func isDigit(b byte) bool  { return b >= '0' && b <= '9' }
func isLetter(b byte) bool { return b >= 'a' && b <= 'z' }
