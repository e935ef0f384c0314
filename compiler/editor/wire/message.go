package wire

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// message is a request, a notification or a response, as it stands on the wire.
type message struct {
	Version string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id,omitempty"` // as it was sent; nil in a notification
	Method  string          `json:"method,omitempty"`
	Params  json.RawMessage `json:"params,omitempty"`
	Result  json.RawMessage `json:"result,omitempty"`
	Error   *Failure        `json:"error,omitempty"`
}

// Failure is why a request got no result.
type Failure struct {
	Code    int    `json:"code"`
	Message string `json:"message"`
}

func (f *Failure) Error() string { return f.Message }

// The codes of failures (JSON-RPC 2.0; language server protocol 3.17).
const (
	parseError       = -32700
	invalidRequest   = -32600
	methodNotFound   = -32601
	invalidParams    = -32602
	internalError    = -32603
	notInitialized   = -32002
	requestFailed    = -32803
	requestCancelled = -32800
)

// null is the id of an answer to something that had none that could be read.
var null = json.RawMessage("null")

// understood reads a message. The failure is for one that can't be read, with the id to answer to.
func understood(body []byte) (m message, bad *Failure) {
	body = bytes.TrimSpace(body)
	if !json.Valid(body) {
		return message{ID: null}, &Failure{parseError, "the message is no JSON"}
	}
	if len(body) == 0 || body[0] != '{' {
		return message{ID: null}, &Failure{invalidRequest, "a message is one JSON object"}
	}
	var loose struct {
		ID     json.RawMessage `json:"id"`
		Method json.RawMessage `json:"method"`
		Params json.RawMessage `json:"params"`
		Result json.RawMessage `json:"result"`
		Error  json.RawMessage `json:"error"`
	}
	if err := json.Unmarshal(body, &loose); err != nil {
		return message{ID: null}, &Failure{invalidRequest, "the message can't be read"}
	}
	m.ID, m.Params = loose.ID, loose.Params
	if m.ID != nil && !isID(m.ID) {
		return message{ID: null}, &Failure{invalidRequest, "an id is a number or a string"}
	}
	if loose.Method == nil {
		if m.ID != nil && (loose.Result != nil || loose.Error != nil) {
			return m, nil // the answer to something that was asked of the editor
		}
		return message{ID: orNull(m.ID)}, &Failure{invalidRequest, "the message has no method"}
	}
	if err := json.Unmarshal(loose.Method, &m.Method); err != nil || m.Method == "" {
		return message{ID: orNull(m.ID)}, &Failure{invalidRequest, "the method is no string"}
	}
	return m, nil
}

// isID tells whether something may be an id. An id may be null, though it should not.
func isID(raw json.RawMessage) bool {
	switch c := raw[0]; {
	case c == '"', c == '-', '0' <= c && c <= '9':
		return len(raw) <= 256
	}
	return bytes.Equal(raw, null)
}

func orNull(id json.RawMessage) json.RawMessage {
	if id == nil {
		return null
	}
	return id
}

// isRequest tells whether a message wants an answer.
func (m message) isRequest() bool { return m.Method != "" && m.ID != nil }

// read decodes params; the failure is for params of another shape.
func (m message) read(into any) *Failure {
	if len(m.Params) == 0 {
		return &Failure{invalidParams, fmt.Sprintf("%q needs params", m.Method)}
	}
	if err := json.Unmarshal(m.Params, into); err != nil {
		return &Failure{invalidParams, fmt.Sprintf("the params of %q can't be read: %v", m.Method, err)}
	}
	return nil
}
