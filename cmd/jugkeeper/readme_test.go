package main

import (
	"flag"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/tui"
)

var update = flag.Bool("update", false, "write the tables of testdata/help that come from the code")

const readme = "../../README.md"

// tables returns the tables of the files in testdata/help that come from the code, by the name of the file.
func tables() map[string]string {
	return map[string]string{"figures": figureTable(), "likely": likelyTable(), "commands": commandTable(), "keys": strings.TrimSpace(tui.DefaultKeys().Table())}
}

func commandTable() string {
	var b strings.Builder
	b.WriteString("| command | does |\n|---|---|\n| `jugkeeper` | the board |\n")
	for _, c := range newRoot(around("", nil, nil), false).Commands() {
		var flags []string
		c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
			if f.Name != "help" {
				value, _ := pflag.UnquoteUsage(f)
				flags = append(flags, "`"+strings.TrimSpace("--"+f.Name+" "+value)+"`")
			}
		})
		does := strings.ToLower(c.Short[:1]) + c.Short[1:]
		if len(flags) > 0 {
			does += "; " + strings.Join(flags, ", ")
		}
		fmt.Fprintf(&b, "| `%s` | %s |\n", strings.ReplaceAll(c.Use, "|", "\\|"), does)
	}
	return strings.TrimSpace(b.String())
}

func figureTable() string {
	var b strings.Builder
	b.WriteString("| figure | equation | source | range | checked to within |\n|---|---|---|---|---|\n")
	for _, f := range bench.Figures() {
		cell := strings.NewReplacer("|", "\\|")
		fmt.Fprintf(&b, "| `%s`: %s | %s | %s | %s | %s |\n", f.Name, f.Use, cell.Replace(f.Equation), cell.Replace(f.Source), cell.Replace(f.Range), cell.Replace(f.Within))
	}
	return strings.TrimSpace(b.String())
}

// likelyTable has the likely range of each measured key, and a decimal slip that it catches.
func likelyTable() string {
	var b strings.Builder
	b.WriteString("| key | likely | change at most | a slip that is asked about |\n|---|---|---|---|\n")
	for _, k := range ferment.Keys() {
		if !k.Likely.Known() || k.Numbers == nil {
			continue
		}
		number := regexp.MustCompile(`\d+(\.\d+)?`)
		unit := strings.Replace(strings.TrimSpace(number.ReplaceAllString(k.Example, "")), "mL", "L", 1) // Likely is in litres
		slip := number.ReplaceAllStringFunc(k.Typed, func(text string) string {
			for n, _ := measure.ParseNumber(text); ; {
				n *= 10
				text = measure.Of(n, "").Text
				var e ferment.Entry
				if err := k.Set(&e, number.ReplaceAllString(k.Example, text), time.UTC); err != nil || k.Numbers(&e)[0] > k.Likely.High {
					return text
				}
			}
		})
		change := "–"
		if k.Likely.Change > 0 {
			change = strings.TrimSpace(measure.Of(k.Likely.Change, unit).Text)
			if k.Likely.Within > 0 {
				change += " in " + measure.Decimal(k.Likely.Within.Hours()/24, 0) + " days"
			}
		}
		fmt.Fprintf(&b, "| `%s` | %s to %s | %s | `%s` |\n", k.Name, measure.Of(k.Likely.Low, "").Text, measure.Of(k.Likely.High, unit).Text, change, slip)
	}
	return strings.TrimSpace(b.String())
}

func TestReadmeAndGuideMatchTheCode(t *testing.T) {
	for name, table := range tables() {
		file := "../../testdata/help/" + name + ".md"
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		before, rest, opens := strings.Cut(string(data), "<!-- "+name+" -->\n")
		_, after, shuts := strings.Cut(rest, "<!-- /"+name+" -->")
		require.True(t, opens && shuts, "%s has a place for its table", file)
		want := before + "<!-- " + name + " -->\n" + table + "\n<!-- /" + name + " -->" + after
		if *update {
			require.NoError(t, os.WriteFile(file, []byte(want), 0o666))
			continue
		}
		assert.Equal(t, want, string(data), "go test ./cmd/jugkeeper -run Readme -update")
	}
}

// Every file that README and guide link to exists.
func TestLinksOfReadmeAndGuideLeadToFiles(t *testing.T) {
	for _, file := range []string{readme, "../../DEVELOPERS.md"} {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		links := regexp.MustCompile(`\]\(([^)#]+)\)`).FindAllStringSubmatch(string(data), -1)
		require.NotEmpty(t, links, file)
		for _, link := range links {
			_, err := os.Stat("../../" + link[1])
			assert.NoError(t, err, "%s links to %s", file, link[1])
		}
	}
}

// The pictures in the README exist.
func TestReadmePicturesAreCurrent(t *testing.T) {
	data, err := os.ReadFile(readme)
	require.NoError(t, err)
	names := regexp.MustCompile(`testdata/[a-z0-9/-]+\.svg`).FindAllString(string(data), -1)
	require.NotEmpty(t, names)
	for _, name := range names {
		_, err := os.Stat("../../" + name)
		assert.NoError(t, err, name)
	}
}

func TestReadmeStartCommandsWork(t *testing.T) {
	data, err := os.ReadFile(readme)
	require.NoError(t, err)
	assert.Contains(t, string(data), "go run ./cmd/jugkeeper demo\ngo test ./...\n")
}
