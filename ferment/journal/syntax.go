package journal

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// mostCuts is how many entries of a file with a syntax error are checked.
const mostCuts = 20000

type span struct{ from, to int }

var logLine = ferment.Pattern(`^([ ]*(?:- +)?)["']?log["']?[ ]*:[ ]*(?:#.*)?$`)

// cut parses a text with a syntax error without the entries that cannot be parsed alone.
func (r *reader) cut(err error) (root, second *yaml.Node, _ error) {
	text := slices.Clone(r.text)
	for _, log := range r.logSpans() {
		for some := range slices.Chunk(log, 64) { // most are fine, so they are tried together
			if r.reads(span{some[0].from, some[len(some)-1].to}) {
				continue
			}
			if len(r.cuts) <= mostProblems { // beyond that many they are dropped 64 at a time
				some = slices.DeleteFunc(slices.Clone(some), r.reads)
			}
			r.cuts = append(r.cuts, some...)
		}
	}
	for _, e := range r.cuts {
		r.blank(text, e)
	}
	if len(r.cuts) > 0 {
		root, second, err = parse(text)
	}
	if err != nil {
		return r.mask(text, err)
	}
	r.noteCuts()
	return root, second, nil
}

// reads reports whether lines are YAML by themselves.
func (r *reader) reads(lines span) bool {
	_, _, err := parse(r.text[r.starts[lines.from-1]:r.end(lines.to)])
	return err == nil
}

// blank turns lines into comments of the same length, so that places stay.
func (r *reader) blank(text []byte, lines span) {
	for i := r.starts[lines.from-1]; i < r.end(lines.to); i++ {
		if text[i] != '\n' && text[i] != '\r' {
			text[i] = '#'
		}
	}
}

// noteCuts notes a problem for each entry that was left out.
func (r *reader) noteCuts() {
	r.inLog = true
	for _, e := range r.cuts {
		troubles := r.diagnose(e)
		if len(troubles) == 0 {
			troubles = append(troubles, r.problem(e.from, r.indent(e.from)+1, entryTrouble))
		}
		for _, p := range troubles {
			r.note(p)
		}
	}
	r.inLog = false
}

// mask parses a text with wrong lines outside its log without them, to find further problems: without the one line that
// makes the text readable, else without all that are clearly wrong.
func (r *reader) mask(text []byte, err error) (root, second *yaml.Node, _ error) {
	r.noteCuts()
	clear := slices.DeleteFunc(r.diagnose(span{1, len(r.starts)}), func(p ferment.Problem) bool {
		return slices.ContainsFunc(r.cuts, func(e span) bool { return e.from <= p.Line && p.Line <= e.to })
	})
	guess := r.syntaxProblem(err)
	tries := slices.Clone(clear)
	for away := 0; away < 2*mostNear && len(r.text) < largest/64; away++ { // 0, 1, -1, 2, -2 …
		if n := guess.Line + (away+1)/2*(2*(away%2)-1); n > 0 && n <= len(r.starts) && !isIdle(r.line(n)) {
			tries = append(tries, r.problem(n, r.indent(n)+1, lineTrouble))
		}
	}
	for _, p := range tries[:min(len(tries), mostNear, 1+mostAgain/len(text))] {
		without := slices.Clone(text)
		r.hide(without, p.Line)
		if root, second, err := parse(without); err == nil {
			r.note(p)
			return root, second, nil
		}
	}
	for _, p := range clear {
		r.note(p)
		r.hide(text, p.Line)
	}
	if len(clear) == 0 {
		r.note(guess)
		return nil, nil, err
	}
	return parse(text)
}

// mostNear is how many lines are tried to find the wrong one, and mostAgain how many bytes are read again for that.
const mostNear, mostAgain = 40, largest / 16

const lineTrouble = `this line keeps the file from being read as YAML (look at its indentation, quotes, brackets and colons; free text goes in quotes, e.g. name: "heather: east")`

// hide removes what is wrong in a line: tabs, else all of it.
func (r *reader) hide(text []byte, line int) {
	margin := text[r.starts[line-1] : r.starts[line-1]+r.indent(line)]
	if !bytes.ContainsRune(margin, '\t') {
		r.blank(text, span{line, line})
	}
	copy(margin, bytes.ReplaceAll(margin, []byte("\t"), []byte(" ")))
}

const entryTrouble = `this entry does not read as YAML (look at its indentation, quotes, brackets and colons; free text goes in quotes, e.g. note: "smell: eggs")`

// logSpans finds the lines of each entry of every log: from a dash to the next at its depth or less.
func (r *reader) logSpans() [][]span {
	var logs [][]span
	for n, most := 1, mostCuts; n <= len(r.starts) && most > 0; n++ {
		if m := logLine().FindStringSubmatch(r.line(n)); m != nil {
			log := r.spansAfter(n, len(m[1]), most)
			logs = append(logs, log)
			most -= len(log) + 1
		}
	}
	return logs
}

// spansAfter returns the lines of each entry of a log, given the line of its key.
func (r *reader) spansAfter(log, keyIndent, most int) []span {
	var spans []span
	dash := -1
	for n := log + 1; n <= len(r.starts) && len(spans) < most; n++ {
		if isIdle(r.line(n)) {
			continue
		}
		in, isDash := r.indent(n), strings.HasPrefix(strings.TrimLeft(r.line(n), " "), "-")
		switch {
		case dash >= 0 && strings.HasPrefix(r.line(n), "\t"): // a tab cannot be judged by depth
			spans[len(spans)-1].to = n
		case dash < 0 && (!isDash || in < keyIndent):
			return nil
		case dash < 0, isDash && in == dash:
			dash = in
			spans = append(spans, span{n, n})
		case in <= keyIndent || in <= dash:
			return spans
		default:
			spans[len(spans)-1].to = n
		}
	}
	return spans
}

func (r *reader) indent(n int) int {
	line := r.line(n)
	return len(line) - len(strings.TrimLeft(line, " \t"))
}

// isIdle reports whether a line has nothing or a comment.
func isIdle(line string) bool {
	line = strings.TrimLeft(line, " \t")
	return line == "" || line[0] == '#'
}

var (
	keyed     = ferment.Pattern(`^[ ]*(?:- +)*([A-Za-z-]+):[ ]+(\S.*)$`)
	mergeMark = ferment.Pattern(`^(?:<{7}|\|{7}|={7}|>{7})(?:$| )`)
	yamlLine  = ferment.Pattern(`line (\d+)`)
)

// diagnose says what in some lines is not YAML, if that is clear.
func (r *reader) diagnose(lines span) []ferment.Problem {
	var found []ferment.Problem
	for n := lines.from; n <= lines.to && len(found) < mostProblems; n++ {
		line := r.line(n)
		if margin := line[:r.indent(n)]; strings.Contains(margin, "\t") && !isIdle(line) {
			found = append(found, r.problem(n, strings.Index(margin, "\t")+1, "the line is indented with a tab (use spaces)"))
			continue
		}
		if i := strings.IndexFunc(line, forbidden); i >= 0 {
			found = append(found, r.problem(n, utf8.RuneCountInString(line[:i])+1, "there is a control character here, which YAML does not take (leave it out)"))
			continue
		}
		if mark := mergeMark().FindString(line); mark != "" {
			found = append(found, r.problem(n, 1, "a merge left %s here (keep one of the two texts, and take the marks out)", strings.TrimSpace(mark)))
			continue
		}
		m := keyed().FindStringSubmatchIndex(line)
		if m == nil {
			continue
		}
		key, text := line[m[2]:m[3]], strings.TrimSpace(line[m[4]:m[5]])
		if trouble := troubleOf(text); trouble != "" && !r.reads(span{n, n}) {
			found = append(found, r.problem(n, utf8.RuneCountInString(line[:m[4]])+1, "%s %s %s (put the text in quotes, e.g. %s: %s)",
				key, quote(text), trouble, key, strconv.Quote(example(text))))
		}
	}
	return found
}

func forbidden(r rune) bool { return r != '\t' && r < ' ' || r == '\x7f' }

// example returns the text that was meant, without its quotes.
func example(text string) string {
	return short(strings.TrimSpace(strings.ReplaceAll(text, `"`, "")), 40)
}

// troubleOf names what keeps a bare text from being one value.
func troubleOf(text string) string {
	if text == "" {
		return ""
	}
	switch first := text[0]; {
	case first == '"' || first == '\'':
		if strings.Count(text, string(first))%2 == 1 {
			return "begins a quote that does not end"
		}
	case strings.ContainsRune("@`%*&!", rune(first)):
		return "begins with a sign that YAML keeps for itself"
	case strings.ContainsRune("[{|>", rune(first)):
	case strings.Contains(text, ": ") || strings.HasSuffix(text, ":"):
		return "has a colon in it"
	}
	return ""
}

// syntaxProblem returns the problem of a file that is not YAML outside its log, for no clear reason. Its line is the
// parser's guess.
func (r *reader) syntaxProblem(err error) ferment.Problem {
	near := 1
	if m := yamlLine().FindStringSubmatch(err.Error()); m != nil {
		near, _ = strconv.Atoi(m[1])
	}
	p := r.problem(min(near, len(r.starts)), 0, fileTrouble)
	p.Near = true
	if strings.Contains(err.Error(), "exceeded max depth") {
		p.Message = "brackets or lists are nested thousands deep"
	}
	return p
}

const fileTrouble = `the file does not read as YAML (look at its indentation, quotes, brackets and colons; free text goes in quotes, e.g. name: "heather: east")`
