package sheet

import (
	"encoding/binary"
	"strings"
	"sync"
	"unicode"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
)

// face is one of the three cuts of the paper's letters, by the name the PDF writer gives its style.
type face string

const (
	upright face = ""
	bold    face = "B"
	italic  face = "I"
)

var faces = map[face][]byte{upright: liberationsansregular.TTF, bold: liberationsansbold.TTF, italic: liberationsansitalic.TTF}

// lettered says which characters all three faces have; those past the first plane they never do.
var lettered = sync.OnceValue(func() *[1 << 16]bool {
	var all [1 << 16]bool
	for i := range all {
		all[i] = true
	}
	for _, font := range faces {
		var has [1 << 16]bool
		coverage(font, &has)
		for i := range all {
			all[i] = all[i] && has[i]
		}
	}
	return &all
})

// coverage marks the characters a TrueType font has a glyph for, by its cmap table of format 4.
//
// Source: OPENTYPE cmap, format 4.
func coverage(font []byte, has *[1 << 16]bool) {
	u16 := func(at int) int { return int(binary.BigEndian.Uint16(font[at:])) }
	u32 := func(at int) int { return int(binary.BigEndian.Uint32(font[at:])) }
	cmap := 0
	for i := range u16(4) {
		if entry := 12 + 16*i; string(font[entry:entry+4]) == "cmap" {
			cmap = u32(entry + 8)
		}
	}
	for i := range u16(cmap + 2) {
		table := cmap + u32(cmap+4+8*i+4)
		if u16(table) != 4 {
			continue
		}
		twice := u16(table + 6) // twice the number of segments
		for s := 0; s < twice; s += 2 {
			end, start := u16(table+14+s), u16(table+16+twice+s)
			delta, rangeAt := u16(table+16+2*twice+s), table+16+3*twice+s
			for c := start; c <= end && c < 0xffff; c++ {
				glyph := c
				if offset := u16(rangeAt); offset != 0 {
					glyph = u16(rangeAt + offset + 2*(c-start))
					if glyph == 0 {
						continue
					}
				}
				has[c] = has[c] || (glyph+delta)&0xffff != 0
			}
		}
	}
}

// oneLine is a text, made readable, without its line breaks and needless spaces.
func oneLine(text string) string {
	return strings.Join(strings.FieldsFunc(readable(text), func(r rune) bool { return r == ' ' || r == '\n' }), " ")
}

// absent stands where a person wrote a character that the paper has no letter for.
const absent = '□'

// spelt are other ways to write characters the faces lack.
var spelt = map[rune]string{
	'‐': "-", '‑': "-", '⁃': "-", '☐': "□", '☑': "[x]", '☒': "[x]", '✓': "v", '✔': "v", '✗': "x", '✘': "x", '→': "->", '⟶': "->", '➔': "->", '⇒': "=>",
	'⅓': "1/3", '⅔': "2/3", '⅕': "1/5", '⅙': "1/6", '•': "-", '￼': "",
	'\u2002': " ", '\u2003': " ", '\u2004': " ", '\u2005': " ", '\u2006': " ", '\u2007': "\u00a0", '\u2008': " ", '\u2009': " ", '\u200a': "", '\u202f': "\u00a0", '\u3000': " ",
}

// readable is a text in letters the paper has: others are spelt another way, or stand as a small box,
// one for a run of them; marks without width are dropped. Line breaks stay.
func readable(text string) string {
	has := lettered()
	var b strings.Builder
	var last rune
	write := func(r rune) {
		if r != absent || last != absent {
			b.WriteRune(r)
		}
		last = r
	}
	for _, r := range strings.ReplaceAll(text, "\r\n", "\n") {
		switch {
		case r == '\n':
			write(r)
		case r == '\t' || r == '\v' || r == '\f' || r == '\r' || r == '\u2028' || r == '\u2029' || r == '\u0085':
			write(' ')
		case unicode.IsControl(r), unicode.In(r, unicode.Cf, unicode.Variation_Selector), r == unicode.ReplacementChar:
		case r < 1<<16 && has[r] && !unicode.Is(unicode.Co, r):
			write(r)
		case unicode.Is(unicode.Mn, r):
		default:
			other, ok := spelt[r]
			if !ok {
				other = string(absent)
			}
			for _, q := range other {
				write(q)
			}
		}
	}
	return b.String()
}
