// Package kailyard_test holds the house to its drawing: imports, package comments, sources, links.
package kailyard_test

import (
	"bufio"
	"encoding/json"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

type room struct {
	level int
	line  string
}

// rooms reads the table of doc/architecture.md by import path.
func rooms(t *testing.T) map[string]room {
	t.Helper()
	f, err := os.Open("doc/architecture.md")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	row := regexp.MustCompile("^\\| (\\d+) \\| `([a-z/]+)` \\| (.+) \\|$")
	found := map[string]room{}
	for scan := bufio.NewScanner(f); scan.Scan(); {
		m := row.FindStringSubmatch(scan.Text())
		if m == nil {
			continue
		}
		level, err := strconv.Atoi(m[1])
		if err != nil {
			t.Fatal(err)
		}
		path := "kailyard/internal/" + m[2]
		if strings.HasPrefix(m[2], "cmd/") || m[2] == "doc" {
			path = "kailyard/" + m[2]
		}
		found[path] = room{level, m[3]}
	}
	if len(found) < 10 {
		t.Fatalf("doc/architecture.md: only %d rooms in the table", len(found))
	}
	return found
}

type listed struct {
	ImportPath, Dir string
	Imports         []string
	GoFiles         []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Dir,Imports,GoFiles", "./...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); dec.More(); {
		var p listed
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		if len(p.GoFiles) > 0 {
			all = append(all, p)
		}
	}
	return all
}

func TestImportsPointDownward(t *testing.T) {
	table := rooms(t)
	seen := map[string]bool{}
	for _, p := range packages(t) {
		own, ok := table[p.ImportPath]
		if !ok {
			t.Errorf("%s has no row in doc/architecture.md", p.ImportPath)
			continue
		}
		seen[p.ImportPath] = true
		for _, dep := range p.Imports {
			if other, ok := table[dep]; ok && other.level >= own.level {
				t.Errorf("%s (level %d) imports %s (level %d)", p.ImportPath, own.level, dep, other.level)
			}
		}
	}
	for path := range table {
		if !seen[path] {
			t.Errorf("doc/architecture.md lists %s, which has no code", path)
		}
	}
}

// TestPureRooms: levels 0–6 and season read no clock, file, environment or process and log nothing.
func TestPureRooms(t *testing.T) {
	table := rooms(t)
	call := regexp.MustCompile(`\btime\.(Now|Since|Sleep|After|Tick)\(`)
	for _, p := range packages(t) {
		if table[p.ImportPath].level > 6 && p.ImportPath != "kailyard/internal/season" {
			continue
		}
		for _, dep := range p.Imports {
			switch dep {
			case "os", "log", "log/slog", "net", "net/http", "os/exec", "math/rand", "database/sql":
				t.Errorf("%s is pure but imports %s", p.ImportPath, dep)
			}
		}
		for _, name := range p.GoFiles {
			text, err := os.ReadFile(filepath.Join(p.Dir, name))
			if err != nil {
				t.Fatal(err)
			}
			if m := call.Find(text); m != nil {
				t.Errorf("%s/%s is pure but calls %s", p.ImportPath, name, m)
			}
		}
	}
}

func TestPackageCommentsAreTheTable(t *testing.T) {
	table := rooms(t)
	for _, p := range packages(t) {
		own, ok := table[p.ImportPath]
		if !ok {
			continue
		}
		var docs []string
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, name), nil, parser.ParseComments|parser.PackageClauseOnly)
			if err != nil {
				t.Fatal(err)
			}
			if file.Doc != nil {
				docs = append(docs, file.Doc.Text())
			}
		}
		name := p.ImportPath[strings.LastIndex(p.ImportPath, "/")+1:]
		want := "Package " + name + " is " + strings.ReplaceAll(own.line, "`", "")
		if strings.HasPrefix(p.ImportPath, "kailyard/cmd/") {
			want = "Command " + name + " is " + strings.ReplaceAll(own.line, "`", "")
		}
		if len(docs) != 1 || !strings.HasPrefix(strings.Join(strings.Fields(docs[0]), " "), want) {
			t.Errorf("%s: package comment should begin once with\n  %s\nhave\n  %q", p.ImportPath, want, docs)
		}
	}
}

// TestSourceKeys: every source key that code, catalogue or docs cite stands in doc/SOURCES.md, and
// every key there is cited.
func TestSourceKeys(t *testing.T) {
	sources, err := os.ReadFile("doc/SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^- \*\*([A-Za-z0-9.\-]+)\*\*`).FindAllStringSubmatch(string(sources), -1) {
		known[m[1]] = true
	}
	cited := map[string][]string{}
	inCode := regexp.MustCompile(`Source:\s+"?([A-Z][A-Za-z0-9.\-]*[A-Za-z0-9])`)
	inData := regexp.MustCompile(`(?:src|source) = "([^"]+)"`)
	err = filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		var pattern *regexp.Regexp
		switch {
		case strings.HasSuffix(path, "_test.go"):
			return nil
		case strings.HasSuffix(path, ".go"):
			pattern = inCode
		case strings.HasSuffix(path, ".toml") && strings.HasPrefix(path, "internal"):
			pattern = inData
		default:
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, m := range pattern.FindAllStringSubmatch(string(text), -1) {
			for key := range strings.SplitSeq(m[1], ";") {
				key = strings.TrimSpace(key)
				cited[key] = append(cited[key], path)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for key, where := range cited {
		if !known[key] {
			t.Errorf("source %s (in %s) is not in doc/SOURCES.md", key, where[0])
		}
	}
	all := readAll(t, ".md", ".go", ".toml")
	for key := range known {
		if strings.Count(all, key) < 2 {
			t.Errorf("doc/SOURCES.md lists %s, which nothing cites", key)
		}
	}
}

func readAll(t *testing.T, suffixes ...string) string {
	t.Helper()
	var text strings.Builder
	err := filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		for _, s := range suffixes {
			if strings.HasSuffix(path, s) {
				b, err := os.ReadFile(path)
				if err != nil {
					return err
				}
				text.Write(b)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return text.String()
}

// TestDocLinks: every relative link of a document leads to a file of the tree.
func TestDocLinks(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#\s]+)(?:#[^)]*)?\)`)
	err := filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".md") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, m := range link.FindAllStringSubmatch(string(text), -1) {
			if strings.Contains(m[1], "://") || strings.HasPrefix(m[1], "mailto:") {
				continue
			}
			if _, err := os.Stat(filepath.Join(filepath.Dir(path), m[1])); err != nil {
				t.Errorf("%s: link to %s leads nowhere", path, m[1])
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
