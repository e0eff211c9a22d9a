package layers

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
)

// rules is a table of packages by directory, see house.
type rules struct {
	tiers        [][]string
	sideways     map[string][]string
	alone        []string
	impure       []string
	mayOpenFiles []string
}

// banned is what a pure package must not import, with the way out. A trailing
// slash stands for the package and all below it.
var banned = []struct{ name, instead string }{
	{"net/", "hand in what was fetched"},
	{"os/", "take an io.Reader and let app open the file"},
	{"database/sql/", "hand in the values; only store speaks to the database"},
	{"syscall/", "let app do it"},
	{"log/", "return the doubt as a value or an error"},
	{"math/rand", "use math/rand/v2 with a seed that is handed in"},
	{"crypto/rand", "use math/rand/v2 with a seed that is handed in"},
}

// seeded are the names of math/rand/v2 that do not draw on its hidden seed.
var seeded = []string{"New", "NewPCG", "NewChaCha8", "NewZipf", "Rand", "Source", "PCG", "ChaCha8", "Zipf"}

// clock are the names of time that read the clock.
var clock = []string{"Now", "Since", "Until"}

// check walks a module's tree and lists its faults, one line each, and counts
// its packages. Test files may import what they like.
func (r rules) check(tree fs.FS, module string) (faults []string, packages int, err error) {
	seen := map[string]bool{}
	err = fs.WalkDir(tree, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if name != "." && (strings.HasPrefix(path.Base(name), ".") || path.Base(name) == "testdata") {
				return fs.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		source, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, source, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		dir := path.Dir(name)
		if !seen[dir] && r.tier(dir) < 0 {
			faults = append(faults, fmt.Sprintf("%s: not in the table of layers yet; place it in layers_test.go", dir))
		}
		seen[dir] = true
		faults = append(faults, r.checkFile(set, file, name, module)...)
		return nil
	})
	return faults, len(seen), err
}

func (r rules) checkFile(set *token.FileSet, file *ast.File, name, module string) (faults []string) {
	dir := path.Dir(name)
	pure := !slices.Contains(r.impure, dir)
	for _, spec := range file.Imports {
		imported, _ := strconv.Unquote(spec.Path.Value)
		if ours, ok := strings.CutPrefix(imported, module+"/"); ok {
			if why := r.direction(dir, ours); why != "" {
				faults = append(faults, fmt.Sprintf("%s: imports %s, but %s", set.Position(spec.Pos()), ours, why))
			}
			continue
		}
		if !pure {
			continue
		}
		if imported == "os" && slices.Contains(r.mayOpenFiles, name) {
			continue
		}
		if instead := whyBanned(imported); instead != "" {
			faults = append(faults, fmt.Sprintf("%s: %s is a domain package and must not import %s: %s", set.Position(spec.Pos()), dir, imported, instead))
		}
		if spec.Name != nil && spec.Name.Name == "." && (imported == "time" || imported == "math/rand/v2") {
			faults = append(faults, fmt.Sprintf("%s: import %s by its name, so that its use can be checked", set.Position(spec.Pos()), imported))
		}
	}
	if pure {
		faults = append(faults, checkUses(set, file)...)
	}
	return faults
}

// direction says why an import between our packages is wrong, or nothing.
func (r rules) direction(from, to string) string {
	upper, lower := r.tier(from), r.tier(to)
	switch {
	case upper < 0 || lower < 0:
		return "" // reported as not placed
	case slices.Contains(r.alone, from):
		return from + " imports nothing of ours"
	case upper == lower && !slices.Contains(r.sideways[from], to):
		return "they stand in one tier and the pair is not among those allowed sideways"
	case upper > lower:
		return fmt.Sprintf("imports run down: %s stands in tier %d, %s above it in tier %d", from, upper+1, to, lower+1)
	}
	return ""
}

func (r rules) tier(dir string) int {
	return slices.IndexFunc(r.tiers, func(tier []string) bool { return slices.Contains(tier, dir) })
}

func whyBanned(imported string) string {
	for _, b := range banned {
		name, tree := strings.CutSuffix(b.name, "/")
		if imported == name || tree && strings.HasPrefix(imported, b.name) {
			return b.instead
		}
	}
	return ""
}

// checkUses finds calls of the clock and of the unseeded source of chance.
func checkUses(set *token.FileSet, file *ast.File) (faults []string) {
	timeName, randName := localName(file, "time", "time"), localName(file, "math/rand/v2", "rand")
	ast.Inspect(file, func(node ast.Node) bool {
		selector, ok := node.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		of, ok := selector.X.(*ast.Ident)
		if !ok {
			return true
		}
		switch name := selector.Sel.Name; {
		case of.Name == timeName && slices.Contains(clock, name):
			faults = append(faults, fmt.Sprintf("%s: time.%s reads the clock: let the caller hand the day in", set.Position(node.Pos()), name))
		case of.Name == randName && !slices.Contains(seeded, name):
			faults = append(faults, fmt.Sprintf("%s: rand.%s draws on a hidden seed: make a rand.New from a seed that is handed in", set.Position(node.Pos()), name))
		}
		return true
	})
	return faults
}

// localName is what a file calls an import, or "" where it has none.
func localName(file *ast.File, imported, usual string) string {
	for _, spec := range file.Imports {
		if p, _ := strconv.Unquote(spec.Path.Value); p == imported {
			if spec.Name != nil {
				return spec.Name.Name
			}
			return usual
		}
	}
	return ""
}
