package tui

import (
	"errors"
	"fmt"
	"io"

	tea "github.com/charmbracelet/bubbletea"
)

// Run shows the board until it is left. The screen is whole again when it
// returns, also where something went wrong inside.
func Run(o Options, in io.Reader, out io.Writer) error {
	program := tea.NewProgram(sheltered{model: New(o)}, tea.WithInput(in), tea.WithOutput(out),
		tea.WithAltScreen(), tea.WithoutSignalHandler())
	last, err := program.Run()
	if s, ok := last.(sheltered); ok && s.trouble != nil {
		return fmt.Errorf("the board stopped, %v%s", s.trouble.what, inFile(s.trouble.file))
	}
	if errors.Is(err, tea.ErrProgramKilled) && errors.Is(err, io.EOF) {
		return nil // the terminal is gone
	}
	return err
}

// sheltered catches what goes wrong inside the model, so that what was typed is
// kept and the screen is left as it was found.
type sheltered struct {
	model   Model
	trouble *failed
}

// Init begins.
func (s sheltered) Init() tea.Cmd { return s.model.Init() }

// Update takes one message.
func (s sheltered) Update(msg tea.Msg) (next tea.Model, cmd tea.Cmd) {
	defer func() {
		if what := recover(); what != nil {
			f := s.model.options.troubled(what)
			s.trouble = &f
			next, cmd = s, s.model.options.leave(s.model.lost())
		}
	}()
	if s.trouble != nil {
		return s, tea.Quit
	}
	m, cmd := s.model.Update(msg)
	s.model = m.(Model)
	return s, cmd
}

// View draws the screen.
func (s sheltered) View() (view string) {
	defer func() {
		if what := recover(); what != nil {
			view = fmt.Sprintf("the screen cannot be drawn, %v; %s leaves", what, s.model.keyName("abort"))
		}
	}()
	if s.trouble != nil {
		return ""
	}
	return s.model.View()
}
