package cli

import (
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
)

// commandNamed is a command as a text names it, and the rest of its clause with
// what flags it is given.
var commandNamed = regexp.MustCompile(`\bhaulm((?: [a-z]+)+)((?:[^;:\n()"”.]|\.\S)*)`)

var flagNamed = regexp.MustCompile(` (--[a-z0-9-]+)`)

// Every command and flag that a help text, a message, a page or a document names
// is there.
func TestTextsNameCommandsThatAreThere(t *testing.T) {
	root := commandTree(t)
	named := 0
	for where, texts := range ourTexts(t) {
		for _, text := range texts {
			for _, m := range commandNamed.FindAllStringSubmatch(text, -1) {
				named++
				node := root
				for _, word := range strings.Fields(m[1]) {
					if len(node.Children) == 0 {
						break // its arguments, or the rest of the sentence
					}
					child := childNamed(node, word)
					if child == nil {
						t.Errorf("%s names %q: %s has no command %q", where, m[0], node.FullPath(), word)
						break
					}
					node = child
				}
				for _, flag := range flagNamed.FindAllStringSubmatch(m[2], -1) {
					if !hasFlag(node, flag[1]) {
						t.Errorf("%s names %q: %s has no flag %s", where, m[0], node.FullPath(), flag[1])
					}
				}
			}
		}
	}
	if named < 50 {
		t.Errorf("only %d commands are named anywhere: the texts were not read", named)
	}
}

func commandTree(t *testing.T) *kong.Node {
	t.Helper()
	parser, err := kong.New(&commands{}, append(givenReaders(), kong.Name("haulm"))...)
	if err != nil {
		t.Fatal(err)
	}
	return parser.Model.Node
}

func childNamed(node *kong.Node, name string) *kong.Node {
	for _, child := range node.Children {
		if child.Name == name {
			return child
		}
	}
	return nil
}

func hasFlag(node *kong.Node, name string) bool {
	if name == "--help" {
		return true
	}
	for n := node; n != nil; n = n.Parent {
		for _, flag := range n.Flags {
			if "--"+flag.Name == name {
				return true
			}
		}
	}
	return false
}

// ourTexts are the texts that a person may read, by file: the strings of the
// code, the pages, the documents.
func ourTexts(t *testing.T) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		switch {
		case strings.HasSuffix(path, "_test.go"):
		case filepath.Ext(path) == ".go":
			out[path] = goStrings(t, path)
		case filepath.Ext(path) == ".html", filepath.Ext(path) == ".md":
			out[path] = []string{string(readFile(t, path))}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func readFile(t *testing.T, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// goStrings are the strings in a Go file, those of one expression joined.
func goStrings(t *testing.T, path string) []string {
	t.Helper()
	src := readFile(t, path)
	var s scanner.Scanner
	files := token.NewFileSet()
	s.Init(files.AddFile(path, files.Base(), len(src)), src, nil, 0)
	var out []string
	joined := false
	for {
		_, tok, lit := s.Scan()
		switch tok {
		case token.EOF:
			return out
		case token.STRING:
			text, err := strconv.Unquote(lit)
			if err != nil {
				t.Fatalf("%s: %v", path, err)
			}
			if joined && len(out) > 0 {
				text = out[len(out)-1] + text
				out = out[:len(out)-1]
			}
			out, joined = append(out, text), false
		default:
			joined = tok == token.ADD
		}
	}
}
