package schedule

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// upwards are the files of the package; each may only refer to those before it.
var upwards = []string{
	"task.go", "caution.go", // basic types
	"record.go", "series.go", "calendar.go", // times
	"nutrition.go", "dose.go", "amount.go", // amounts
	"pressure.go", "still.go", "gates.go", "danger.go", // why not
	"ledger.go",                                                                            // what entries settle
	"planner.go", "rules.go", "tasks.go", "extra.go", "remedy.go", "sparing.go", "plan.go", // the day
}

// noPackages imports every package as an empty one: only references inside this package are checked.
type noPackages struct{}

func (noPackages) Import(path string) (*types.Package, error) {
	p := types.NewPackage(path, path[strings.LastIndex(path, "/")+1:])
	p.MarkComplete()
	return p, nil
}

// TestFilesReferOneWay resolves every name of the package and fails for one that is defined in a later file.
func TestFilesReferOneWay(t *testing.T) {
	set, files := token.NewFileSet(), []*ast.File{}
	names, err := os.ReadDir(".")
	require.NoError(t, err)
	for _, n := range names {
		if !strings.HasSuffix(n.Name(), ".go") || strings.HasSuffix(n.Name(), "_test.go") {
			continue
		}
		assert.Contains(t, upwards, n.Name())
		f, err := parser.ParseFile(set, n.Name(), nil, 0)
		require.NoError(t, err)
		files = append(files, f)
	}
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{Importer: noPackages{}, Error: func(error) {}}
	pkg, _ := config.Check("schedule", set, files, info)
	seen := 0
	for id, used := range info.Uses {
		if used.Pkg() != pkg {
			continue
		}
		seen++
		from, to := set.Position(id.Pos()), set.Position(used.Pos())
		assert.LessOrEqual(t, slices.Index(upwards, to.Filename), slices.Index(upwards, from.Filename), "%s refers to %s, defined in %s", from, id.Name, to.Filename)
	}
	assert.Greater(t, seen, 1000)
}
