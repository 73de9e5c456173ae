package export_test

import (
	"encoding/xml"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// element is an element of a picture: name, attributes, text.
type element struct {
	name, text string
	attributes map[string]string
}

// drawn parses a picture strictly as XML without external resources and scripts (SVG 1.1, chapter 5: the outermost
// element and its description).
func drawn(t *testing.T, text string) []element {
	t.Helper()
	var out []element
	for d := xml.NewDecoder(strings.NewReader(text)); ; {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		switch k := token.(type) {
		case xml.StartElement:
			e := element{name: k.Name.Local, attributes: map[string]string{}}
			for _, a := range k.Attr {
				e.attributes[a.Name.Local] = a.Value
				assert.NotContains(t, a.Value, "url(")
			}
			assert.Contains(t, []string{"svg", "title", "desc", "rect", "text", "line", "polyline", "polygon", "circle"}, e.name)
			assert.NotContains(t, e.attributes, "href")
			out = append(out, e)
		case xml.CharData:
			if len(out) > 0 {
				out[len(out)-1].text += strings.TrimRight(string(k), "\n")
			}
		}
	}
	require.Equal(t, "svg", out[0].name)
	assert.Equal(t, "http://www.w3.org/2000/svg", out[0].attributes["xmlns"])
	assert.Equal(t, []string{"800", "450", "0 0 800 450"}, []string{out[0].attributes["width"], out[0].attributes["height"], out[0].attributes["viewBox"]})
	assert.Equal(t, []string{"title", "desc"}, []string{out[1].name, out[2].name}, "said in words first")
	return out
}

func count(es []element, is func(element) bool) (n int) {
	for _, e := range es {
		if is(e) {
			n++
		}
	}
	return n
}

func texts(es []element) string {
	var all []string
	for _, e := range es {
		if e.name == "text" {
			all = append(all, e.text)
		}
	}
	return strings.Join(all, "\n")
}

func TestCurveOfOne(t *testing.T) {
	s := alone(opened(t, invented, now), "lime-a")
	text, missing := export.Curves(s)
	assert.Empty(t, missing)
	es := drawn(t, text)
	c := s.Vessels[0].Course
	full := count(es, func(e element) bool { return e.name == "circle" && e.attributes["fill"] == "#006AA6" })
	hollow := count(es, func(e element) bool { return e.name == "circle" && e.attributes["fill"] == "white" })
	assert.Equal(t, 4+1, full, "the must, three readings, and the sign that says what a mark is")
	assert.Equal(t, 1, hollow, "the one in doubt")
	for _, want := range []string{"⅓ " + words.Exact(c.Break(1.0/3).Value, c.Settings), "finish " + words.Exact(c.Finish.Value, c.Settings), "3 Oct 2026", "1.080", "?"} {
		assert.Contains(t, texts(es), want)
	}
	assert.Contains(t, es[2].text, "LIME-A: Sat 3 Oct 11:00 1.0840; ", "the readings in words")
	assert.Contains(t, es[2].text, "1.0790 in doubt")
	assert.Equal(t, 1, count(es, func(e element) bool { return e.name == "polygon" && e.attributes["fill-opacity"] != "" }), "the band")
}

// The height of a mark is its gravity on the labelled scale.
func TestCurveIsToScale(t *testing.T) {
	s := alone(opened(t, invented, now), "lime-a")
	text, _ := export.Curves(s)
	es := drawn(t, text)
	heights := map[float64]float64{} // gravity → y of its line
	for i, e := range es {
		if g, err := strconv.ParseFloat(e.text, 64); err == nil && e.attributes["text-anchor"] == "end" {
			heights[g] = number(t, es[i-1].attributes["y1"])
		}
	}
	require.Greater(t, len(heights), 3)
	require.Contains(t, heights, 1.06)
	require.Contains(t, heights, 1.08)
	perPoint := (heights[1.06] - heights[1.08]) / 20
	var marks []float64
	for _, e := range es {
		if e.name == "circle" && e.attributes["cy"] != "41.0" {
			marks = append(marks, number(t, e.attributes["cy"]))
		}
	}
	require.Len(t, marks, len(s.Vessels[0].Course.Readings)-1, "the start is no reading")
	i := 0
	for _, r := range s.Vessels[0].Course.Readings {
		if r.From == "started" {
			continue
		}
		assert.InDelta(t, heights[1.08]+perPoint*(1080-1000*float64(r.Gravity)), marks[i], 0.2)
		i++
	}
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

func TestCurvesOfSeveral(t *testing.T) {
	s := opened(t, invented, now)
	s.Vessels = []app.Vessel{found(t, s, "lime-a"), found(t, s, "lime-b")}
	text, missing := export.Curves(s)
	assert.Empty(t, missing)
	es := drawn(t, text)
	assert.Contains(t, texts(es), "days since the pitch")
	assert.NotContains(t, texts(es), "⅓", "each has its own")
	var lefts []string
	for _, e := range es {
		if e.name == "circle" && lefts == nil {
			lefts = append(lefts, e.attributes["cx"])
		}
		if e.name == "rect" && e.attributes["width"] == "8" && len(lefts) == 1 {
			lefts = append(lefts, e.attributes["x"])
		}
	}
	require.Len(t, lefts, 2, "told apart by shape")
	assert.InDelta(t, number(t, lefts[0]), number(t, lefts[1])+4, 0.11, "both begin at their pitch")
}

// A person's text is always escaped.
func TestCurveEscapesWhatAPersonWrote(t *testing.T) {
	text, _ := export.Curves(alone(opened(t, invented, now), "lime-a"))
	es := drawn(t, text)
	assert.Equal(t, `LIME-A, =1+1, wash; the \ <bung> & "ring" 蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜 é�[2J�� END:VEVENT @sum]]>: gravity`, es[1].text)
	assert.NotRegexp(t, regexp.MustCompile(`[\x00-\x08\x0b-\x1f\x7f]`), text)
}

func TestCurveWithoutReadings(t *testing.T) {
	text, missing := export.Curves(opened(t, map[string]string{"ferments/oak.yaml": "format: 1\nlog: []\n"}, now))
	assert.Empty(t, text)
	assert.Equal(t, []string{"oak: no reading to draw yet"}, missing)
}

// No two of many curves look the same, and the rest is named.
func TestManyCurves(t *testing.T) {
	files := map[string]string{}
	for _, letter := range "abcdefghijklmnopq" {
		files["ferments/lime-"+string(letter)+".yaml"] = "format: 1\nmust: {volume: 3.6 L, gravity: 1.084}\nlog: [{at: 2026-10-01, did: pitch}, {at: 2026-10-03, gravity: 1.070}]\n"
	}
	text, missing := export.Curves(opened(t, files, now))
	drawn(t, text)
	assert.Equal(t, []string{"lime-q: more than 16 curves cannot be told apart"}, missing)
}
