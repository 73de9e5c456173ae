package main

import (
	"encoding/json"
	"errors"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var onSystems = flag.String("systems", "", "type-check the tree and its tests for systems, e.g. darwin/arm64,windows/amd64")

// TestSystems type-checks every package and test for other systems. It reads sources only, those of the libraries
// without the bodies of their functions: a compiler would build the standard library first, a minute for each system.
func TestSystems(t *testing.T) {
	if *onSystems == "" {
		t.Skip("go test ./cmd/jugkeeper -run Systems -systems darwin/arm64,windows/amd64 -v")
	}
	for pair := range strings.SplitSeq(*onSystems, ",") {
		t.Run(pair, func(t *testing.T) {
			system, processor, _ := strings.Cut(pair, "/")
			checked, wrong := typeCheck(t, system, processor)
			require.Empty(t, wrong)
			require.Greater(t, checked, 50, "packages of this module")
		})
	}
}

// sources is a package as go list describes it. A package under test is listed once more, as "path [other.test]".
type sources struct {
	ImportPath, Dir string
	GoFiles         []string
	ImportMap       map[string]string
	Standard        bool
	Module          *struct{ Main bool }
}

func typeCheck(t *testing.T, system, processor string) (checked int, wrong []string) {
	list := exec.Command("go", "list", "-deps", "-test", "-json=ImportPath,Dir,GoFiles,ImportMap,Standard,Module", "cellar/jugkeeper/...")
	list.Env = append(os.Environ(), "GOOS="+system, "GOARCH="+processor, "CGO_ENABLED=0")
	out, err := list.Output()
	require.NoError(t, err)
	known := imported{"unsafe": types.Unsafe}
	files := token.NewFileSet()
	for in := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p sources
		if err := in.Decode(&p); errors.Is(err, io.EOF) {
			return checked, wrong
		} else {
			require.NoError(t, err)
		}
		ours := p.Module != nil && p.Module.Main
		if p.ImportPath == "unsafe" || strings.HasSuffix(p.ImportPath, ".test") { // the latter has a generated file alone
			continue
		}
		var parsed []*ast.File
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(files, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			parsed = append(parsed, f)
		}
		imports := maps.Clone(known)
		for path, as := range p.ImportMap {
			imports[path] = known[as]
		}
		conf := types.Config{Importer: imports, IgnoreFuncBodies: !ours, FakeImportC: true, Sizes: types.SizesFor("gc", processor),
			Error: func(err error) {
				if ours {
					wrong = append(wrong, err.Error())
				}
			}}
		path, _, _ := strings.Cut(p.ImportPath, " ")
		known[p.ImportPath], _ = conf.Check(path, files, parsed, nil)
		if ours {
			checked++
		}
	}
}

// imported are packages that were checked before those that import them.
type imported map[string]*types.Package

// Import implements types.Importer.
func (i imported) Import(path string) (*types.Package, error) {
	if p := i[path]; p != nil {
		return p, nil
	}
	return nil, errors.New("not listed before: " + path)
}
