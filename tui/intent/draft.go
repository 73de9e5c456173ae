package intent

// Draft is what was typed into a line or a form and not kept.
type Draft struct {
	Kind    string // "reading", "note", "form rack", …
	Subject string
	Step    string
	Text    string // empty where nothing would be lost
}

// Same tells whether two drafts are of the same line or form.
func (d Draft) Same(other Draft) bool {
	return d.Kind == other.Kind && d.Subject == other.Subject && d.Step == other.Step
}
