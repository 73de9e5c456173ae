package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"gopkg.in/yaml.v3"
)

// parse turns a text into a tree of nodes. Nothing is decoded: digits, quotes
// and places stay as they are. An empty text has no tree. The second node is
// where another document begins.
func parse(text []byte) (root, second *yaml.Node, err error) {
	defer func() {
		if p := recover(); p != nil { // the parser panics on what it thinks impossible
			root, second, err = nil, nil, fmt.Errorf("%v", p)
		}
	}()
	d := yaml.NewDecoder(bytes.NewReader(text))
	var first, next yaml.Node
	if err := d.Decode(&first); errors.Is(err, io.EOF) {
		return nil, nil, nil
	} else if err != nil {
		return nil, nil, err
	}
	switch err := d.Decode(&next); {
	case errors.Is(err, io.EOF):
		return first.Content[0], nil, nil
	case err != nil:
		return nil, nil, err
	}
	return first.Content[0], &next, nil
}

// child is the value of a key of a mapping, nil where it has none.
func child(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// isNothing tells whether a value is left out, null or ~, and no more.
func isNothing(n *yaml.Node) bool {
	return n == nil || n.Kind == yaml.ScalarNode && n.Tag == "!!null" && n.Style&yaml.TaggedStyle == 0 && n.Anchor == ""
}
