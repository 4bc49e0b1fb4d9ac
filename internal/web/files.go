package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
)

//go:embed static
var staticFS embed.FS

// files are the static files, each at an address that holds a hash of its content: a browser may
// keep it for ever, and a new build is fetched at once.
type files struct {
	body map[string][]byte // by address
	kind map[string]string // content type by address
	urls map[string]string // address by name
}

func mustFiles() *files {
	f := &files{body: map[string][]byte{}, kind: map[string]string{}, urls: map[string]string{}}
	err := fs.WalkDir(staticFS, "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := staticFS.ReadFile(name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(body)
		base := strings.TrimPrefix(name, "static/")
		url := "/static/" + hex.EncodeToString(sum[:6]) + "/" + base
		f.body[url], f.urls[base], f.kind[url] = body, url, contentType(base)
		return nil
	})
	if err != nil {
		panic(err)
	}
	return f
}

func contentType(name string) string {
	switch path.Ext(name) {
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	}
	return mime.TypeByExtension(path.Ext(name))
}

// url is the address of a static file; an unknown name is a programmer's error.
func (f *files) url(name string) string {
	u, ok := f.urls[name]
	if !ok {
		panic("web: no static file " + name)
	}
	return u
}

func (f *files) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, ok := f.body[r.URL.Path]
	if !ok {
		http.Error(w, "There is no such file. Reload the page to get the current ones.", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", f.kind[r.URL.Path])
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	_, _ = w.Write(body)
}
