package form

import "cellar/jugkeeper/schedule/desk"

// Open is the form of that name, of a ferment, a lot or a culture, with values
// that stand in it already. It is not ok where the name or the subject is none.
func Open(name string, s desk.Snapshot, subject string, given Values) (Form, bool) {
	kind, known := kinds[name]
	if !known {
		return Form{}, false
	}
	return kind(s, subject, given)
}

// A kind makes a form of its subject.
type kind func(s desk.Snapshot, subject string, given Values) (Form, bool)

// kinds are the forms by name.
var kinds = map[string]kind{
	"rack":   ofVessel(Rack),
	"bottle": ofVessel(Bottle),
	"new":    newKind,
}

// ofVessel is a kind of form that a ferment has.
func ofVessel(make func(desk.Snapshot, desk.Vessel, Values) Form) kind {
	return func(s desk.Snapshot, subject string, given Values) (Form, bool) {
		v, is := s.Find(subject)
		if !is || v.Culture != nil {
			return Form{}, false
		}
		return make(s, v, given), true
	}
}
