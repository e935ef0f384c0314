-- One session of a person at Neovim with the procedure job.md in the current folder. What is to be seen at each moment is
-- written to seen.json. Older and newer releases name some calls differently; both are known here.
local seen = {}
local patience = 20000 -- ms, for a machine that is busy with other things

local function text()
  return table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\n") .. "\n"
end

local function diagnostics()
  local all = {}
  for _, d in ipairs(vim.diagnostic.get(0)) do
    table.insert(all, { line = d.lnum, from = d.col, to = d.end_col, severity = d.severity, code = d.code, message = d.message, source = d.source })
  end
  return all
end

local function has(code)
  for _, d in ipairs(vim.diagnostic.get(0)) do
    if d.code == code then return true end
  end
  return false
end

local function cursor(pattern)
  vim.api.nvim_win_set_cursor(0, { 1, 0 })
  if vim.fn.search(pattern, "c") == 0 then error("there is no " .. pattern) end
end

local function ask(method)
  local got = vim.lsp.buf_request_sync(0, method, vim.lsp.util.make_position_params(), patience) or {}
  for _, answer in pairs(got) do
    if answer.error then error(method .. ": " .. answer.error.message) end
    return answer.result
  end
  error(method .. ": no answer")
end

local function until_(what, done)
  if not vim.wait(patience, done, 20) then error("waited in vain for " .. what) end
end

local function run()
  vim.cmd("filetype on")
  vim.cmd("luafile setup.lua")
  vim.cmd("edit job.md")
  until_("the first finding", function() return has("refit/left-off") end)
  seen.first = diagnostics()

  cursor("cover bolts} finger")
  seen.hover = ask("textDocument/hover").contents.value

  vim.lsp.buf.definition()
  until_("the row of the table", function() return vim.api.nvim_win_get_cursor(0)[1] < 20 end)
  seen.definition = vim.api.nvim_win_get_cursor(0)

  -- A tag begun at the end of a step, with the tool that turns the bolt of that step offered first.
  local line = vim.fn.search("Remove 12", "cw") - 1
  local old = vim.api.nvim_buf_get_lines(0, line, line + 1, false)[1]
  local begun = old:gsub("{tool 6 mm hex key}", "{tool 6}")
  vim.api.nvim_buf_set_lines(0, line, line + 1, false, { begun })
  vim.api.nvim_win_set_cursor(0, { line + 1, begun:find("{tool 6}", 1, true) + 6 })
  local items = ask("textDocument/completion")
  items = items.items or items
  seen.offers = {}
  for _, item in ipairs(items) do table.insert(seen.offers, item.label) end
  vim.lsp.util.apply_text_edits({ items[1].textEdit }, 0, "utf-16")
  seen.completed = vim.api.nvim_buf_get_lines(0, line, line + 1, false)[1]

  -- Two characters typed over: the finding goes.
  cursor("10 cover bolts")
  local at = vim.api.nvim_win_get_cursor(0)
  vim.api.nvim_buf_set_text(0, at[1] - 1, at[2], at[1] - 1, at[2] + 2, { "12" })
  until_("the finding to go", function() return not has("refit/left-off") end)
  seen.typed = diagnostics()

  -- A slip of the pen: the safe fix is offered and taken.
  cursor("remove the cover gasket")
  at = vim.api.nvim_win_get_cursor(0)
  vim.api.nvim_buf_set_text(0, at[1] - 1, at[2], at[1] - 1, at[2] + 23, { "remove the cover gaskett" })
  until_("the slip", function() return has("part/unknown") end)
  seen.slip = diagnostics()
  vim.ui.select = function(choices, _, chosen) chosen(choices[1], 1) end
  cursor("gaskett")
  vim.lsp.buf.code_action()
  until_("the fix", function() return not has("part/unknown") and not text():find("gaskett", 1, true) end)

  cursor("cover bolts} with")
  vim.lsp.buf.rename("end screw")
  until_("the new name", function() return text():find("Remove 12 end screws", 1, true) ~= nil end)
  seen.renamed = text()

  local name = vim.lsp.buf.format and "format" or "formatting_sync"
  if name == "format" then vim.lsp.buf.format({ timeout_ms = patience }) else vim.lsp.buf.formatting_sync(nil, patience) end
  seen.tidied = text()
  until_("the last findings", function() return #vim.diagnostic.get(0) == 0 end)
  seen.last = diagnostics()

  for _, client in pairs(vim.lsp.get_active_clients()) do client.stop() end
  until_("the end of the server", function() return next(vim.lsp.get_active_clients()) == nil end)
end

local ok, err = pcall(run)
if not ok then
  seen.error = tostring(err) .. "\n" .. vim.inspect(diagnostics()) .. "\n" .. text() .. vim.fn.execute("messages")
end
vim.fn.writefile({ vim.fn.json_encode(seen) }, "seen.json")
vim.cmd("qall!")
