package wire

import "encoding/json"

// The shapes of the language server protocol 3.17 that are spoken here, with its names for their parts.

type position struct {
	Line      int `json:"line"`      // from 0
	Character int `json:"character"` // from 0, in the units that were agreed on
}

type span struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

type location struct {
	URI   string `json:"uri"`
	Range span   `json:"range"`
}

type textEdit struct {
	Range   span   `json:"range"`
	NewText string `json:"newText"`
}

type initializeParams struct {
	Capabilities struct {
		General struct {
			PositionEncodings []string `json:"positionEncodings"`
		} `json:"general"`
		Workspace struct {
			WorkspaceEdit struct {
				DocumentChanges bool `json:"documentChanges"`
			} `json:"workspaceEdit"`
			DidChangeWatchedFiles struct {
				DynamicRegistration bool `json:"dynamicRegistration"`
			} `json:"didChangeWatchedFiles"`
		} `json:"workspace"`
		TextDocument struct {
			PublishDiagnostics struct {
				RelatedInformation bool `json:"relatedInformation"`
			} `json:"publishDiagnostics"`
			CodeAction struct {
				IsPreferredSupport bool            `json:"isPreferredSupport"`
				Literal            json.RawMessage `json:"codeActionLiteralSupport"`
			} `json:"codeAction"`
			DocumentSymbol struct {
				Hierarchical bool `json:"hierarchicalDocumentSymbolSupport"`
			} `json:"documentSymbol"`
			FoldingRange struct {
				RangeLimit int `json:"rangeLimit"`
			} `json:"foldingRange"`
		} `json:"textDocument"`
	} `json:"capabilities"`
}

type documentItem struct {
	URI     string `json:"uri"`
	Version int    `json:"version"`
	Text    string `json:"text"`
}

type documentID struct {
	URI     string `json:"uri"`
	Version *int   `json:"version,omitempty"`
}

type openParams struct {
	TextDocument documentItem `json:"textDocument"`
}

type documentParams struct {
	TextDocument documentID `json:"textDocument"`
}

type change struct {
	Range *span  `json:"range"` // nil: the whole text
	Text  string `json:"text"`
}

type changeParams struct {
	TextDocument   documentID `json:"textDocument"`
	ContentChanges []change   `json:"contentChanges"`
}

type placeParams struct {
	TextDocument documentID `json:"textDocument"`
	Position     position   `json:"position"`
}

type referenceParams struct {
	placeParams
	Context struct {
		IncludeDeclaration bool `json:"includeDeclaration"`
	} `json:"context"`
}

type renameParams struct {
	placeParams
	NewName string `json:"newName"`
}

type actionParams struct {
	TextDocument documentID `json:"textDocument"`
	Range        span       `json:"range"`
	Context      struct {
		Only []string `json:"only"`
	} `json:"context"`
}

type cancelParams struct {
	ID json.RawMessage `json:"id"`
}

type diagnostic struct {
	Range    span      `json:"range"`
	Severity int       `json:"severity"`
	Code     string    `json:"code"`
	Source   string    `json:"source"`
	Message  string    `json:"message"`
	Related  []related `json:"relatedInformation,omitempty"`
}

type related struct {
	Location location `json:"location"`
	Message  string   `json:"message"`
}

type publishParams struct {
	URI         string       `json:"uri"`
	Version     *int         `json:"version,omitempty"`
	Diagnostics []diagnostic `json:"diagnostics"`
}

type markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

type hover struct {
	Contents markup `json:"contents"`
	Range    span   `json:"range"`
}

type completionItem struct {
	Label         string   `json:"label"`
	Kind          int      `json:"kind"`
	Detail        string   `json:"detail,omitempty"`
	Documentation *markup  `json:"documentation,omitempty"`
	SortText      string   `json:"sortText"`
	FilterText    string   `json:"filterText"`
	TextEdit      textEdit `json:"textEdit"`
}

type completionList struct {
	IsIncomplete bool             `json:"isIncomplete"`
	Items        []completionItem `json:"items"`
}

type symbol struct {
	Name           string    `json:"name"`
	Detail         string    `json:"detail,omitempty"`
	Kind           int       `json:"kind"`
	Range          *span     `json:"range,omitempty"`
	SelectionRange *span     `json:"selectionRange,omitempty"`
	Children       []symbol  `json:"children,omitempty"`
	Location       *location `json:"location,omitempty"` // for editors that know flat lists only
}

type foldingRange struct {
	StartLine int `json:"startLine"`
	EndLine   int `json:"endLine"`
}

type versionedID struct {
	URI     string `json:"uri"`
	Version *int   `json:"version"` // null: not open, as it is on the disk
}

type documentEdit struct {
	TextDocument versionedID `json:"textDocument"`
	Edits        []textEdit  `json:"edits"`
}

type workspaceEdit struct {
	Changes         map[string][]textEdit `json:"changes,omitempty"`
	DocumentChanges []documentEdit        `json:"documentChanges,omitempty"`
}

type codeAction struct {
	Title       string         `json:"title"`
	Kind        string         `json:"kind"`
	Diagnostics []diagnostic   `json:"diagnostics,omitempty"`
	IsPreferred bool           `json:"isPreferred,omitempty"`
	Edit        *workspaceEdit `json:"edit"`
}

type named struct {
	Range       span   `json:"range"`
	Placeholder string `json:"placeholder"`
}

type shown struct {
	Type    int    `json:"type"` // 1 error, 2 warning, 3 information, 4 log
	Message string `json:"message"`
}
