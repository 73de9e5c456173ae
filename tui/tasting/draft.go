package tasting

import (
	"maps"
	"net/url"
	"strconv"
	"strings"

	"cellar/jugkeeper/tui/screen"
)

// encoded is what was written, with what the codes were drawn from: on another
// day they would be others. Nothing where nothing was written.
func (m Model) encoded() string {
	values := url.Values{}
	for at, text := range m.written {
		if strings.TrimSpace(text) != "" {
			values.Set(strconv.Itoa(at.glass)+" "+at.line, text)
		}
	}
	if len(values) == 0 || m.stage == shown {
		return ""
	}
	values.Set("seed", strconv.FormatUint(m.seed, 10))
	values.Set("before", strconv.Itoa(m.before))
	values.Set("triangle", strconv.FormatBool(m.triangle))
	return values.Encode()
}

// Resume is the tasting with what an earlier one left, the cursor where a word is
// still missing.
func (m Model) Resume(f screen.Frame, text string) screen.Screen {
	values, err := url.ParseQuery(text)
	if err != nil {
		return m // a draft of another kind; the tasting stands as it is
	}
	m.written = maps.Clone(m.written)
	if seed, err := strconv.ParseUint(values.Get("seed"), 10, 64); err == nil {
		m.seed = seed
	}
	if before, err := strconv.Atoi(values.Get("before")); err == nil {
		m.before = before
	}
	m.triangle = m.want.Blind && values.Get("triangle") == "true"
	for key := range values {
		if glass, line, is := strings.Cut(key, " "); is {
			n, _ := strconv.Atoi(glass)
			m.written[place{n, line}] = values.Get(key)
		}
	}
	m.stage, m.at = tastes, place{}
	v := view{m, f}
	v.Model = v.poured()
	if at, is := v.missing(); is {
		v.at = at
	}
	return v.entered()
}
