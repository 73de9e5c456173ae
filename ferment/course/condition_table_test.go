package course

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// falling is a log with readings down to the dry finish, warm.
const falling = "0 pitch | 0.5 started | 2 1.080 18C | 6 1.045 | "

// rested has been steady since day 64.
const rested = "0 pitch | 2 1.080 18C | 48 0.997 18C | 57 0.997 | 64 0.997 | "

func still(f *ferment.Ferment) { f.Endings = []ferment.Ending{ferment.Still} }

// conditionCases has both sides of each condition, to the last digit: a log for which it holds, and one for which it
// does not. The dry finish of 1.100 is 0.9962; gravity between readings is interpolated.
var conditionCases = []struct {
	text    string
	days    float64
	yes, no string
	met     float64                // the day on which yes first met it; 0 for none
	frees   string                 // what frees it in no
	ofNo    func(*ferment.Ferment) // what else differs in no; nil for nothing
}{
	{"break 1/3", 9, falling + "8 1.020", "0 pitch | 2 1.080", 3.6698, "gravity", nil},
	{"starter at break 1/2", 9, "", falling, 0, "", nil},
	{"below 1.020", 9, falling + "8 1.0199", falling + "8 1.020", 7.992, "gravity", nil},
	{"above 1.019", 9, falling + "8 1.0191", falling + "8 1.019", 0.5, "", nil},
	{"near finish", 30, falling + "28 1.000", falling + "28 1.020", 24.985, "gravity", nil},
	{"dry", 60, falling + "58 0.990", falling + "58 1.000", 50.278, "gravity", nil},
	{"steady", 64.5, rested + "64.2 look", "0 pitch | 50 0.997 18C | 57 0.997 | 64 0.997", 64, "gravity", nil},
	{"pace over 9.9", 3, "0 pitch | 1 1.080 18C | 2 1.070", "0 pitch | 1 1.080 18C | 2 1.0702", 0, "", nil},
	{"pace under 9.9", 3, "0 pitch | 1 1.080 18C | 2 1.0702", "0 pitch | 1 1.080 18C | 2 1.070", 0, "", nil},
	{"tolerance over by 12 %", 9, "0 pitch | 2 1.075 18C", falling, 0, "", nil},
	{"stuck", 9, falling + "9 1.044", falling + "8.99 1.044", 9, "", nil},
	{"sluggish", 9, falling + "9 1.0435", falling + "9 1.030", 9, "", nil},
	{"restarted", 90, rested + "85 0.995", rested + "85 0.9951", 85, "", nil},
	{"started", 2, "0 pitch | 0.5 started", "0 pitch", 0.5, "started", nil},
	{"not started", 2, "0 pitch", "0 pitch | 0.5 started", 0, "", nil},
	{"stabilised", 70, rested + "65 sulphite 0.5g | 67 sorbate 0.7g", rested + "65 sulphite 0.5g | 67.1 sorbate 0.7g", 67, "sulphite", nil},
	{"must read", 9, "0 1.100 | 0.1 pitch", "0 pitch | 0.1 1.100", 0, "gravity", func(f *ferment.Ferment) { f.Must.Gravity = measure.Given[measure.Gravity]{} }},
	{"primed", 9, falling + "8 prime 20g", falling, 0, "prime", nil},
	{"discarded", 9, falling + "8 dump", falling + "8 look", 0, "", nil},
	{"bacteria worked", 9, falling + "8 look of=malolactic", falling + "8 look of=jug", 0, "", nil},
	{"clear", 9, falling + "7 look hazy | 8 look clear", falling + "7 look clear | 8 look hazy", 8, "look", nil},
	{"ph over 3.5", 9, falling + "8 pH3.51", falling + "8 pH3.5", 8, "ph", nil},
	{"ph under 3.5", 9, falling + "8 pH3.49", falling + "7 pH3.4 | 8 pH3.5", 8, "ph", nil},
	{"lees over 1 cm", 9, falling + "8 look lees=1.1cm", falling + "8 look lees=1cm", 8, "", nil},
	{"hiss over 3", 9, falling + "8 open hiss=4", falling + "8 open hiss=3", 8, "open", nil},
	{"hiss under 3", 9, falling + "8 open hiss=2", falling + "8 open hiss=3", 8, "open", nil},
	{"two openings equal", 9, falling + "7 open hiss=3 | 8 open hiss=3", falling + "6 open hiss=3 | 7 open hiss=3 | 8 open hiss=4", 0, "", nil},
	{"feel hard", 9, falling + "8 squeeze feel=hard", falling + "7 squeeze feel=hard | 8 squeeze feel=firm", 8, "squeeze", nil},
	{"seen gas", 9, falling + "8 look seen=gas", falling + "8 look seen=foam", 8, "look", nil},
	{"smell clean", 9, falling + "8 look smell=clean", falling + "8 look smell=bad", 8, "look", nil},
	{"film", 9, falling + "8 look seen=film", falling + "7 look seen=film | 8 look seen=gas", 8, "", nil},
	{"mould", 9, falling + "7 look seen=mould | 8 look seen=gas", falling + "8 look seen=film", 7, "", nil},
	{"dry airlock", 9, falling + "8 look airlock=dry", falling + "8 look airlock=working", 8, "look", nil},
	{"verdict usable", 9, "0 pitch | 3 verdict verdict=usable", "0 pitch | 3 verdict verdict=usable | 4 verdict verdict=trying", 3, "verdict", nil},
	{"wild", 9, falling, falling, 0, "", bears(16)},
	{"ending undecided", 9, falling, falling, 0, "", still},
	{"ending undecided", 9, falling, falling + "8 bottle left=0L", 0, "", nil},
	{"gravity since pitch", 9, falling + "6.5 look", "0 1.100 | 0.5 pitch", 0, "gravity", nil},
	{"rack at least 24 h ago", 9, falling + "8 rack", falling + "8.0001 rack", 0, "", nil},
	{"rack at least 2 d ago", 9, falling + "7 rack", falling, 0, "rack", nil},
	{"rack under 24 h ago", 9, falling + "8.0001 rack", falling + "8 rack", 0, "", nil},
	{"rack", 9, falling + "8 rack", falling, 8, "rack", nil},
}

func read(t *testing.T, text string) ferment.Condition {
	t.Helper()
	c, known, err := ReadCondition(text)
	require.NoError(t, err, text)
	require.True(t, known, text)
	return c
}

func TestBothSidesOfEachCondition(t *testing.T) {
	for _, c := range conditionCases {
		cond := read(t, c.text)
		met := time.Time{}
		if c.yes != "" {
			yes := after(t, c.days, strings.TrimSuffix(c.yes, "| "))
			if cond.Kind == ferment.IsWild {
				yes = after(t, c.days, strings.TrimSuffix(c.yes, "| "), wild)
			}
			holds, known := yes.Holds(cond)
			assert.True(t, holds && known, "%s: %s", c.text, c.yes)
			met, _ = yes.FirstMet(cond)
		}
		day := met.Sub(pitchedAt).Hours() / 24
		if c.met == 0 {
			assert.True(t, met.IsZero(), "%s: met on day %v", c.text, day)
		} else {
			assert.InDelta(t, c.met, day, 0.001, c.text)
		}
		no := after(t, c.days, strings.TrimSuffix(c.no, "| "))
		if c.ofNo != nil {
			no = after(t, c.days, strings.TrimSuffix(c.no, "| "), c.ofNo)
		}
		holds, _ := no.Holds(cond)
		assert.False(t, holds, "%s: %s", c.text, c.no)
		assert.Equal(t, c.frees, no.FreedBy(logOnly{no.Entries, no.Now}, cond), c.text)
	}
}

// TestEveryConditionHasItsRow: each kind has one row, and each row is complete and has its cases.
func TestEveryConditionHasItsRow(t *testing.T) {
	asked, cases := map[ferment.ConditionKind]int{}, map[ferment.ConditionKind]int{}
	for _, r := range rows {
		asked[r.kind]++
		assert.NotNil(t, r.reads, r.kind)
		assert.NotNil(t, r.holds, r.kind)
		assert.NotNil(t, r.frees, r.kind)
	}
	for _, c := range conditionCases {
		cases[read(t, c.text).Kind]++
	}
	file, err := parser.ParseFile(token.NewFileSet(), "../protocol.go", nil, 0)
	require.NoError(t, err)
	ast.Inspect(file, func(n ast.Node) bool {
		v, is := n.(*ast.ValueSpec)
		if !is || v.Type == nil || v.Type.(*ast.Ident).Name != "ConditionKind" {
			return true
		}
		kind, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
		require.NoError(t, err)
		assert.Equal(t, 1, asked[ferment.ConditionKind(kind)], "rows of %s", kind)
		return true
	})
	for kind, n := range asked {
		assert.Equal(t, 1, n, "rows of %s", kind)
		assert.NotZero(t, cases[kind], "%s has no case here", kind)
	}
}
