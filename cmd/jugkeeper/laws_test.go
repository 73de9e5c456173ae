package main

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "cellar/jugkeeper/"

var sciences = []string{"ferment/gravity", "ferment/alcohol", "ferment/honey", "ferment/nutrient", "ferment/carbonation", "ferment/finishing"}

// mayImport is what each package may import of the others. A name ending in /* is for all packages below it.
var mayImport = map[string][]string{
	"ferment/measure":            {},
	"ferment/internal/published": {},
	"ferment":                    with(sciences, "ferment/measure"),
	"ferment/course":             with(sciences, "ferment/measure", "ferment"),
	"ferment/protocol":           {"ferment/course", "ferment", "ferment/measure"},
	"ferment/journal":            {"ferment/protocol", "ferment", "ferment/measure"},
	"ferment/line":               {"ferment", "ferment/measure"},
	"ferment/larder":             with(sciences, "ferment", "ferment/measure"),
	"ferment/lineage":            with(sciences, "ferment/course", "ferment", "ferment/measure"),
	"ferment/remark":             {"ferment/larder", "ferment/shelf", "ferment/course", "ferment", "ferment/measure"},
	"ferment/forecast":           with(sciences, "ferment/course", "ferment", "ferment/measure"),
	"ferment/bench":              with(sciences, "ferment/shelf", "ferment", "ferment/measure"),
	"ferment/shelf":              with(sciences, "ferment/course", "ferment", "ferment/measure"),
	"ferment/tasting":            with(sciences, "ferment", "ferment/measure"),
	"schedule":                   with(sciences, "ferment/larder", "ferment/lineage", "ferment/shelf", "ferment", "ferment/protocol", "ferment/course", "ferment/measure"),
	"schedule/protocols":         {},
	"schedule/app":               with(sciences, "ferment/line", "ferment/larder", "schedule", "ferment/remark", "ferment/shelf", "ferment/forecast", "ferment/course", "ferment", "ferment/measure"),
	"schedule/words":             with(sciences, "ferment/forecast", "ferment/larder", "ferment/lineage", "ferment/shelf", "ferment/tasting", "schedule", "schedule/app", "ferment/course", "ferment", "ferment/measure"),
	"schedule/guide":             {"schedule", "schedule/app", "schedule/words", "ferment", "ferment/measure", "ferment/bench", "ferment/forecast"},
	"schedule/form":              with(sciences, "ferment/larder", "ferment/lineage", "ferment/shelf", "ferment/tasting", "ferment/bench", "schedule", "schedule/app", "schedule/words", "ferment/course", "ferment", "ferment/measure"),
	"cmd/jugkeeper/export":       with(sciences, "schedule", "schedule/app", "schedule/words", "ferment/forecast", "ferment/shelf", "ferment/course", "ferment", "ferment/measure", "tui/layout", "tui/theme"),
	"tui/theme":                  {},
	"tui/layout":                 {},
	"tui/guard":                  {},
	"tui/intent":                 {"ferment", "ferment/measure"},
	"tui/screen":                 {"tui/theme", "tui/layout", "tui/widget", "tui/intent", "schedule/app", "schedule/words", "ferment"},
	"tui/widget":                 {"tui/theme", "tui/layout", "tui/intent", "schedule/words"},
	"tui":                        with(sciences, "tui/*", "schedule", "schedule/app", "schedule/words", "schedule/form", "schedule/guide", "ferment/course", "ferment", "ferment/measure"),
	"cmd/jugkeeper":              {"*"},
	"cmd/jugkeeper/faults":       {},
}

func with(base []string, more ...string) []string { return append(slices.Clone(base), more...) }

// allowed returns what a package may import. A science package may use the others and measure; a screen may use drawing
// and domain packages, but not another screen.
func allowed(pkg string) ([]string, bool) {
	if list, known := mayImport[pkg]; known {
		return list, true
	}
	switch {
	case slices.Contains(sciences, pkg):
		return with(sciences, "ferment/measure"), true
	case strings.HasPrefix(pkg, "tui/"):
		return with(sciences, "tui/theme", "tui/layout", "tui/widget", "tui/intent", "tui/screen", "tui/fill", "schedule", "schedule/app", "schedule/words", "schedule/form", "schedule/guide",
			"ferment/bench", "ferment/forecast", "ferment/larder", "ferment/lineage", "ferment/shelf", "ferment/tasting", "ferment/line", "ferment/course", "ferment", "ferment/measure"), true
	}
	return nil, false
}

func permits(list []string, path string) bool {
	return slices.ContainsFunc(list, func(allow string) bool {
		under, all := strings.CutSuffix(allow, "*")
		return allow == path || all && strings.HasPrefix(path, under)
	})
}

// fenced are imports that only some packages may have.
var fenced = map[string][]string{
	"os":                                 {"cmd/*", "ferment/journal", "ferment/internal/published"},
	"gopkg.in/yaml.v3":                   {"ferment/journal"},
	"github.com/charmbracelet/lipgloss":  {"tui", "tui/*"},
	"github.com/charmbracelet/bubbletea": {"tui", "tui/*"},
	"github.com/spf13/cobra":             {"cmd/*"},
}

type goPackage struct {
	ImportPath, Dir           string
	Imports                   []string
	TestImports, XTestImports []string
	GoFiles                   []string
	TestGoFiles, XTestGoFiles []string
}

func packages(t *testing.T) []goPackage {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Dir,Imports,TestImports,XTestImports,GoFiles,TestGoFiles,XTestGoFiles", module+"...").Output()
	require.NoError(t, err)
	var ps []goPackage
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p goPackage
		if err := d.Decode(&p); err == io.EOF {
			break
		} else {
			require.NoError(t, err)
		}
		ps = append(ps, p)
	}
	require.Greater(t, len(ps), 10, "the packages of the house")
	return ps
}

func TestImportsGoOneWay(t *testing.T) {
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		list, known := allowed(name)
		if !assert.True(t, known, "%s has no place in the house", name) {
			continue
		}
		for _, imp := range p.Imports {
			if own, is := strings.CutPrefix(imp, module); is {
				assert.True(t, permits(list, own), "%s imports %s", name, own)
			}
			if only, is := fenced[imp]; is {
				assert.True(t, permits(only, name), "%s imports %s", name, imp)
			}
		}
	}
}

func TestLawCatchesAWrongImport(t *testing.T) {
	for _, wrong := range [][2]string{
		{"schedule", "ferment/journal"}, {"ferment/measure", "ferment"}, {"tui/board", "tui/vessel"}, {"tui/board", "ferment/journal"},
		{"ferment/course", "schedule"}, {"ferment/journal", "schedule"}, {"schedule/app", "tui"}, {"ferment/gravity", "ferment"},
	} {
		list, known := allowed(wrong[0])
		require.True(t, known, wrong[0])
		assert.False(t, permits(list, wrong[1]), "%s may import %s", wrong[0], wrong[1])
	}
	assert.False(t, permits(fenced["os"], "schedule"))
	assert.True(t, permits(fenced["os"], "cmd/jugkeeper"))
}

// eachFile parses every file of the module that is not a test.
func eachFile(t *testing.T, visit func(pkg string, file string, tree *ast.File)) {
	t.Helper()
	for _, p := range packages(t) {
		for _, name := range p.GoFiles {
			tree, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, name), nil, parser.ParseComments)
			require.NoError(t, err)
			visit(strings.TrimPrefix(p.ImportPath, module), name, tree)
		}
	}
}

func TestOnlyTheCommandReadsTheClock(t *testing.T) {
	eachFile(t, func(pkg, file string, tree *ast.File) {
		ast.Inspect(tree, func(n ast.Node) bool {
			if s, is := n.(*ast.SelectorExpr); is {
				if x, is := s.X.(*ast.Ident); is && x.Name == "time" && slices.Contains([]string{"Now", "Since", "Until"}, s.Sel.Name) {
					assert.Equal(t, "cmd/jugkeeper/main.go", pkg+"/"+file, "reads the clock")
				}
			}
			return true
		})
	})
}

// The frame is an argument: a screen's model does not store it.
func TestScreensKeepNoFrame(t *testing.T) {
	framed := []string{"theme.Theme", "app.Snapshot", "words.Sheet", "screen.Frame", "layout.Page"}
	models := 0
	eachFile(t, func(pkg, file string, tree *ast.File) {
		ast.Inspect(tree, func(n ast.Node) bool {
			d, is := n.(*ast.TypeSpec)
			if !is || d.Name.Name != "Model" || !strings.HasPrefix(pkg, "tui/") {
				return true
			}
			models++
			for _, f := range d.Type.(*ast.StructType).Fields.List {
				assert.NotContains(t, framed, types.ExprString(f.Type), "%s/%s", pkg, file)
				for _, name := range f.Names {
					assert.NotContains(t, []string{"width", "height", "footer", "below"}, name.Name, "%s/%s", pkg, file)
				}
			}
			return false
		})
	})
	require.GreaterOrEqual(t, models, 10, "the screens")
}

// Properties draw the same values in every run: a package that has some sets the seed.
func TestPropertiesHaveASeed(t *testing.T) {
	have := 0
	for _, p := range packages(t) {
		if !slices.Contains(slices.Concat(p.TestImports, p.XTestImports), "pgregory.net/rapid") {
			continue
		}
		have++
		assert.Contains(t, slices.Concat(p.TestGoFiles, p.XTestGoFiles), "seed_test.go", p.ImportPath)
	}
	assert.Greater(t, have, 10, "packages with properties")
}

func TestExportedNamesAreDocumented(t *testing.T) {
	eachFile(t, func(pkg, file string, tree *ast.File) {
		for _, d := range tree.Decls {
			for _, bare := range undocumented(d) {
				assert.Fail(t, "no comment", "%s/%s: %s", pkg, file, bare)
			}
		}
	})
}

// undocumented returns the exported names of a declaration without a comment. A comment on a group counts for each of
// its names.
func undocumented(d ast.Decl) []string {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && d.Doc == nil && (d.Recv == nil || exportedReceiver(d.Recv)) && !expected(d.Name.Name) {
			return []string{d.Name.Name}
		}
	case *ast.GenDecl:
		if d.Doc != nil {
			return nil
		}
		var bare []string
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				if s.Name.IsExported() && s.Doc == nil {
					bare = append(bare, s.Name.Name)
				}
			case *ast.ValueSpec:
				if s.Names[0].IsExported() && s.Doc == nil && s.Comment == nil {
					bare = append(bare, s.Names[0].Name)
				}
			}
		}
		return bare
	}
	return nil
}

// expected reports whether an interface documents a method.
func expected(name string) bool {
	return slices.Contains([]string{"Error", "String", "Unwrap", "Init", "Update", "View",
		"Show", "Do", "Subject", "Word", "File", "Seek", // screen.Screen and its other interfaces
		"Press", "Typing", "Draft", "Resume", "Kept", "Fail", "Rows", "Footer", // screen.Fillable, entry.Line
	}, name)
}

func exportedReceiver(r *ast.FieldList) bool {
	typ := r.List[0].Type
	if star, is := typ.(*ast.StarExpr); is {
		typ = star.X
	}
	if generic, is := typ.(*ast.IndexExpr); is {
		typ = generic.X
	}
	id, is := typ.(*ast.Ident)
	return is && id.IsExported()
}

func TestModulePathSortsBeforeTheTerminalLibrary(t *testing.T) {
	assert.Less(t, strconv.Quote(module), strconv.Quote("github.com/charmbracelet/bubbletea"),
		"packages are initialised in the order of their paths: the guard must come first")
}
