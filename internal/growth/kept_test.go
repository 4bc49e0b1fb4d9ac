package growth

import (
	"bytes"
	"flag"
	"fmt"
	"hash/fnv"
	"os"
	"reflect"
	"strings"
	"testing"

	"kailyard/internal/crop"
)

var update = flag.Bool("update", false, "write what tables come out as")

// catalogueOptions are every method of every n-th crop of the catalogue, and of every other of those under a cover.
func catalogueOptions(n int) (options []Option) {
	covers := crop.Protections()
	for i, k := range crop.Default().All() {
		if i%n != 0 {
			continue
		}
		for m := range k.Methods {
			options = append(options, Option{Crop: k, Method: m})
			if cover := covers[i/n%len(covers)]; Fits(k, cover) && i/n%2 == 0 {
				options = append(options, Option{Crop: k, Method: m, Protection: cover})
			}
		}
	}
	return options
}

// Tables read back are the tables that were written: every outcome, every canopy, every cover.
func TestTablesComeBack(t *testing.T) {
	for name, c := range map[string]*Climate{"cold": coldWinters.climate(12, 1), "mild": mildWinters.climate(7, 2), "one year": coldWinters.climate(1, 3)} {
		options := catalogueOptions(3)
		made := Tabulate(c, options)
		bodies, size := make([][]byte, len(options)), 0
		for i, table := range made {
			bodies[i] = table.Encode()
			size += len(bodies[i])
		}
		for i, got := range Restore(c, options, bodies) {
			what := fmt.Sprint(name, " ", options[i].Starting())
			if got == nil {
				t.Fatalf("%s does not come back", what)
			}
			if !reflect.DeepEqual(made[i].outcomes, got.outcomes) || made[i].needs != got.needs {
				t.Fatalf("%s comes back otherwise", what)
			}
			for d := c.Season.Start; d <= c.Season.End(); d += 37 {
				for _, on := range []int{10, 60, 120} {
					a1, a2, a3 := made[i].Canopy(d, d.Add(on))
					if b1, b2, b3 := got.Canopy(d, d.Add(on)); a1 != b1 || a2 != b2 || a3 != b3 {
						t.Fatalf("%s: the canopy from %s comes back otherwise", what, d)
					}
				}
				if made[i].Outgrows(d) != got.Outgrows(d) || !reflect.DeepEqual(made[i].Summary(d), got.Summary(d)) {
					t.Fatalf("%s: from %s it comes back otherwise", what, d)
				}
			}
			if !reflect.DeepEqual(made[i].Windows(0.8), got.Windows(0.8)) {
				t.Fatalf("%s: its windows come back otherwise", what)
			}
		}
		t.Logf("%s: %d tables in %.1f kB each, %.0f %% of what they are in memory", name, len(options), float64(size)/float64(len(options))/1e3, 100*float64(size)/float64(len(options)*c.Season.Days*len(c.Years)*10))
	}
}

// What was damaged, cut short, or made for another climate gives no table and no panic.
func TestADamagedTableIsNone(t *testing.T) {
	c, option := coldWinters.climate(3, 1), catalogueOptions(9)[:1]
	body := Tabulate(c, option)[0].Encode()
	none := func(what string, c *Climate, body []byte) {
		t.Helper()
		if Restore(c, option, [][]byte{body})[0] != nil {
			t.Errorf("%s was read", what)
		}
	}
	for _, n := range []int{0, 1, 4, 5, 7, len(body) / 2, len(body) - 1} {
		none(fmt.Sprintf("%d bytes of %d", n, len(body)), c, body[:n])
	}
	for at := 0; at < len(body); at += 1 + len(body)/97 {
		wrong := bytes.Clone(body)
		wrong[at] ^= 0x21
		none(fmt.Sprintf("a table with byte %d wrong", at), c, wrong)
	}
	none("a table of three years for four", coldWinters.climate(4, 1), body)
}

// A digest changes with everything that a table is made from.
func TestDigests(t *testing.T) {
	c := coldWinters.climate(3, 1)
	base := catalogueOptions(9)[0]
	name := func(c *Climate, o Option) string { return c.Digests([]Option{o})[0] }
	seen := map[string]string{name(c, base): "the first"}
	other := func(what string, c *Climate, o Option) {
		t.Helper()
		if was, ok := seen[name(c, o)]; ok {
			t.Errorf("%s has the digest of %s", what, was)
		}
		seen[name(c, o)] = what
	}
	if name(c, base) != name(coldWinters.climate(3, 1), base) {
		t.Error("the same has two digests")
	}
	changed := func(change func(k *crop.Crop)) Option {
		k := *base.Crop
		k.Methods = append([]crop.Method(nil), k.Methods...)
		change(&k)
		return Option{Crop: &k, Method: base.Method}
	}
	other("other weather", coldWinters.climate(3, 2), base)
	other("more years", coldWinters.climate(4, 1), base)
	other("a cover", c, Option{Crop: base.Crop, Method: base.Method, Protection: crop.Protections()[0]})
	other("another cover", c, Option{Crop: base.Crop, Method: base.Method, Protection: crop.Protections()[1]})
	other("a warmer base", c, changed(func(k *crop.Crop) { k.Cardinal.Base++ }))
	other("a longer time", c, changed(func(k *crop.Crop) { k.Methods[0].Days.High++ }))
	other("another limit", c, changed(func(k *crop.Crop) { limit := k.Hardiness.Seedling; k.Heat.BoltAbove = &limit }))
	warmer := *c
	warmer.low = append([]float32(nil), c.low...)
	warmer.low[500] += 0.1
	other("one night", &warmer, base)
	south := *c
	south.Latitude = -south.Latitude
	other("another latitude", &south, base)
}

// Everything of an option can be written down: no field is hidden from what a digest is made of.
func TestNothingIsHiddenFromADigest(t *testing.T) {
	var look func(at reflect.Type, path string)
	seen := map[reflect.Type]bool{}
	look = func(at reflect.Type, path string) {
		switch at.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			look(at.Elem(), path)
		case reflect.Struct:
			if seen[at] {
				return
			}
			seen[at] = true
			for i := range at.NumField() {
				f := at.Field(i)
				if !f.IsExported() || strings.HasPrefix(f.Tag.Get("json"), "-") {
					t.Errorf("%s.%s is hidden", path, f.Name)
				}
				look(f.Type, path+"."+f.Name)
			}
		case reflect.Func, reflect.Chan, reflect.Interface, reflect.UnsafePointer:
			t.Errorf("%s cannot be written down", path)
		}
	}
	look(reflect.TypeFor[Option](), "Option")
}

// Where a table comes out otherwise than one of the same digest did, Version must be raised, or gardens would go by tables kept before the
// change. Raise it, then run this test with -update; so too where the catalogue's figures have changed so far that few digests are known.
func TestADigestNamesOneTable(t *testing.T) {
	const file = "testdata/golden/tables.txt"
	is, lines := map[string]string{}, []string{}
	for _, c := range []*Climate{coldWinters.climate(4, 1), mildWinters.climate(4, 2)} {
		options := catalogueOptions(2)
		names := c.Digests(options)
		for i, table := range Tabulate(c, options) {
			h := fnv.New64a()
			h.Write(table.Encode())
			name := names[i][:16]
			is[name] = fmt.Sprintf("%016x", h.Sum64())
			lines = append(lines, name+" "+is[name]+"\n")
		}
	}
	if *update {
		if err := os.WriteFile(file, []byte(strings.Join(lines, "")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	was, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	known := 0
	for line := range strings.Lines(string(was)) {
		name, came, _ := strings.Cut(strings.TrimSpace(line), " ")
		if now, ok := is[name]; ok {
			known++
			if now != came {
				t.Fatalf("a table comes out otherwise than version %d of it did: raise Version, then run this test with -update", Version)
			}
		}
	}
	if 2*known < len(is) {
		t.Errorf("%d of %d tables are known: run this test with -update", known, len(is))
	}
}

// BenchmarkTables makes a household's tables, and reads them back.
func BenchmarkTables(b *testing.B) {
	c, options := coldWinters.climate(30, 1), catalogueOptions(2)
	bodies := make([][]byte, len(options))
	for i, t := range Tabulate(c, options) {
		bodies[i] = t.Encode()
	}
	b.Run("made", func(b *testing.B) {
		for b.Loop() {
			Tabulate(c, options)
		}
	})
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			c.Digests(options)
			Restore(c, options, bodies)
		}
	})
	b.Run("written", func(b *testing.B) {
		for b.Loop() {
			for _, t := range Restore(c, options, bodies) {
				t.Encode()
			}
		}
	})
}
