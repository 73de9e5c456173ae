package main

// files are what a cellar's folder holds.
var files = [][2]string{
	{"cellar.yaml", "the settings: time zone, units, scale, theme, keys, bottles; may be missing"},
	{"ferments/NAME.yaml", "one ferment: what it was made of, and its log; the name of the file is its name"},
	{"ferments/past/NAME.yaml", "a closed ferment; it is read when it is named"},
	{"protocols/NAME.yaml", "a plan of your own; it goes before a built-in one of its name"},
	{"honey.yaml", "honey lots"},
	{"cultures.yaml", "yeast cultures"},
}

// environment are the variables that the program looks at.
var environment = [][2]string{
	{"JUGKEEPER_CELLAR", "the folder of the cellar, where --cellar names none"},
	{"XDG_DATA_HOME", "holds the cellar, in jugkeeper, where neither names one; ~/.local/share if it is not set"},
	{"XDG_STATE_HOME", "holds, in jugkeeper, the record of every entry and half-typed lines; ~/.local/state if it is not set"},
	{"VISUAL, EDITOR", "the editor that a key of the board opens a file in"},
	{"NO_COLOR", "set to anything, no colours"},
	{"TERM", "dumb for a terminal that takes plain lines alone"},
}
