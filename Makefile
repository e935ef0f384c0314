# The work of the project in a few words. `make` alone lists them.
GO      ?= go
TOOL     = $(GO) tool -modfile=.ci/tools.mod
TIMEOUT ?= 13m

.PHONY: help build cards test lint golden generate fuzz long bench figures release wide clean

help: ## list the targets
	@grep -hE '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 12

build: ## make the program, ./cards/refitcard
	@mkdir -p cards
	$(GO) build -trimpath -ldflags=-buildid= -o cards/refitcard ./cmd/refitcard

cards: ## make all sheets of the sample library, in cards/
	$(GO) run ./cmd/refitcard press procedures -o cards/

test: ## everything that must hold: formatting, linters, all tests
	@$(MAKE) --no-print-directory lint
	$(GO) test -timeout $(TIMEOUT) ./...

lint: ## gofumpt, go vet, staticcheck
	@unformatted=$$($(TOOL) gofumpt -l $$($(GO) list -f '{{.Dir}}' ./...)); \
	if [ -n "$$unformatted" ]; then echo "not formatted (gofumpt -w):"; echo "$$unformatted"; exit 1; fi
	$(GO) vet ./...
	$(TOOL) staticcheck ./...

golden: ## renew the golden files and the page of all checks; read the diff afterwards
	$(GO) test $$(grep -rlE '"update"|sebdah/goldie' --include='*_test.go' . | xargs -n1 dirname | sort -u) \
	  -run 'Golden|Cards|Help|Script|PageOfChecks' -update

generate: ## renew what is generated: the baked fonts
	$(GO) generate ./...

FUZZTIME ?= 30m
fuzz: ## run every fuzz target, FUZZTIME each
	@for p in $$($(GO) list ./...); do \
	  for f in $$($(GO) test -list '^Fuzz' $$p | grep ^Fuzz); do \
	    echo "$$p $$f"; $(GO) test $$p -run '^$$' -fuzz "^$$f$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 20x || exit 1; \
	  done; done

long: ## make ten thousand procedures at random, and plant a fault in each of as many
	REFITCARD_LONG=1 $(GO) test -count=1 -timeout $(TIMEOUT) -run Planted ./compiler/...

bench: ## how fast it is: ratios to what it is held against, from one run, and cost against size; a few minutes
	$(GO) run ./.ci/bench

figures: ## lengths of files and functions, depth, comments: the figures that the code is held to
	$(GO) test -count=1 -v -run Figures ./compiler | grep -v '^=== '

release: ## the program for six platforms, checksums and licences, into cards/release
	@.ci/release

wide: ## build for other systems and processors, and run the tests that can run here as if on them (qemu-user)
	@.ci/wide

clean: ## take away what was made
	rm -rf cards
