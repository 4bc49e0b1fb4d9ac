package sheet

import (
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// What the fonts' own documents say: all of Latin-1, the WGL4 set (with Greek, Cyrillic, the eighths
// and the box) and not the dingbats. WGL4: Microsoft's list of 652 characters; from memory.
func TestTheFacesHaveTheLettersWeUse(t *testing.T) {
	has := lettered()
	for r := rune(0x20); r <= 0xff; r++ {
		if r >= 0x7f && r < 0xa0 {
			continue
		}
		if !has[r] {
			t.Errorf("%q (%U) of Latin-1 is missing", r, r)
		}
	}
	for _, r := range "⅛⅜⅝⅞½¼¾–—‘’“”…−×·°²€ΑΩαωЖж□≤≥ŁłŒœŠšŽžőű" {
		if !has[r] {
			t.Errorf("%q (%U) is missing", r, r)
		}
	}
	for _, r := range "☃☐✓✔野菜あ" {
		if has[r] {
			t.Errorf("%q (%U) is said to be there", r, r)
		}
	}
	if !has[absent] {
		t.Error("there is no sign for what is absent")
	}
}

func TestOddTextStaysReadable(t *testing.T) {
	for text, want := range map[string]string{
		"Long drill":                  "Long drill",
		"Λαχανόκηπος":                 "Λαχανόκηπος",
		"Snow ☃ bed":                  "Snow □ bed",
		"菜園 by the wall":              "□ by the wall",
		"✓ done, 2–3 × ½ in":          "v done, 2–3 × ½ in",
		"\u200bzero\u00adwidth\ufe0f": "zerowidth",
		"tab\there\r\nnext\x07":       "tab here\nnext",
		"🥕🥕 carrots":                  "□ carrots",
		"broken \xff":                 "broken ",
		"Möhren, Kürbis, naïve":       "Möhren, Kürbis, naïve",
	} {
		if got := readable(text); got != want {
			t.Errorf("%q is written %q, want %q", text, got, want)
		}
	}
}

// Whatever a person writes, only letters of the fonts come out, and what is readable stays as it is.
func TestOnlyLettersOfTheFacesAreWritten(t *testing.T) {
	has := lettered()
	rapid.Check(t, func(t *rapid.T) {
		got := readable(rapid.String().Draw(t, "text"))
		if !utf8.ValidString(got) {
			t.Fatalf("%q", got)
		}
		for _, r := range got {
			if r != '\n' && (r >= 1<<16 || !has[r]) {
				t.Fatalf("%q (%U) is not in the font", r, r)
			}
		}
		if again := readable(got); again != got {
			t.Fatalf("%q becomes %q", got, again)
		}
	})
}
