package entry

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// Offer is the question whether an entry that an edit from outside has lost is
// to be put back. It is asked once.
type Offer struct {
	base
	lost ferment.Lost
	more int // that will be asked about after it
}

// NewOffer asks about the first of the entries that were lost.
func NewOffer(s app.Snapshot, lost []ferment.Lost) Line {
	v, _ := s.Find(lost[0].Subject)
	return Offer{newBase(s, v), lost[0], len(lost) - 1}
}

// Press types nothing: there is only yes and no.
func (o Offer) Press(intent.Stroke) (Line, intent.Intent) { return o, nil }

// Do puts the entry back, or leaves it out for good.
func (o Offer) Do(a intent.Action) (Line, intent.Intent) {
	switch a {
	case intent.Keep:
		return o, intent.PutBack{Lost: o.lost}
	case intent.Back:
		return o, intent.LeaveOut{Lost: o.lost}
	}
	return o, nil
}

// Show is the question in a later snapshot.
func (o Offer) Show(s app.Snapshot) Line {
	o.base = o.in(s)
	return o
}

// Fail says why it could not be put back.
func (o Offer) Fail(err error) Line {
	o.base = o.fail(err)
	return o
}

// Draft is nothing: the entry stays in the record.
func (o Offer) Draft() intent.Draft { return intent.Draft{Kind: "offer"} }

// Rows is the question.
func (o Offer) Rows(l Look) []string {
	rows := lines{l.head(o.vessel.Label(), "an entry is gone from "+o.lost.File, widget.Text{}), ""}
	if o.failed != "" {
		rows = rows.and(l.worded(words.No, o.failed)...)
	}
	rows = rows.and(l.named(words.LogTime(o.lost.Entry.At, o.snapshot.At), words.EntryLine(o.lost.Entry, o.snapshot.Cellar.Settings.Units))...)
	rows = rows.and(l.named("", "it was given here and does not stand in the file: an older state was saved over it, or the file was broken then")...)
	if o.more > 0 {
		rows = rows.and(l.named("", "one of several")...)
	}
	return rows
}

// Footer is what may be pressed.
func (o Offer) Footer(l Look) string {
	return l.footer(widget.Key{Key: l.Keep, Does: "put it back"}, widget.Key{Key: l.Back, Does: "leave it out"})
}
