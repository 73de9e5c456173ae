package ferment

// Plans are protocols by name, each read when it is first asked for: most of
// them nobody asks for on a morning.
type Plans map[string]func() Protocol

// PlansOf are protocols that have been read already.
func PlansOf(protocols ...Protocol) Plans {
	plans := Plans{}
	for _, p := range protocols {
		plans[p.Name] = func() Protocol { return p }
	}
	return plans
}

// Named is the protocol of a name, if there is one.
func (p Plans) Named(name string) (Protocol, bool) {
	read, ok := p[name]
	if !ok {
		return Protocol{}, false
	}
	return read(), true
}
