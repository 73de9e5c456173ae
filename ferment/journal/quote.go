package journal

import "cellar/jugkeeper/ferment"

// Quote gives problems the text of their lines, as it stands in the files.
func (s *Store) Quote(ps []ferment.Problem) []ferment.Problem {
	s.mu.Lock()
	defer s.mu.Unlock()
	texts := map[string]source{}
	for i, p := range ps {
		if p.Line == 0 || p.Text != "" {
			continue
		}
		text, read := texts[p.File]
		if !read {
			data, _ := s.data(p.File) // one that cannot be read has no text to show
			text = newSource(p.File, data)
			texts[p.File] = text
		}
		ps[i].Text = told(text.line(p.Line))
	}
	return ps
}
