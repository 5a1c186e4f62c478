-- Drives the server from a terminal editor: opens a listing with a mistake, prints the diagnostic,
-- applies its fix, renames a variable, tidies the listing, and prints what has become of it.
local launcher, path = vim.env.LISTWRIGHT, vim.env.LISTING

local function say(...) io.stdout:write(table.concat({ ... }, ' '), '\n') end
local function need(value, what)
  if not value then
    say('FAILED', what)
    vim.cmd('cquit 1')
  end
  return value
end

vim.cmd('edit ' .. vim.fn.fnameescape(path))
local buffer = vim.api.nvim_get_current_buf()
local client = need(vim.lsp.start_client({
  name = 'listwright',
  cmd = { 'node', launcher, 'language-server' },
}), 'start')
vim.lsp.buf_attach_client(buffer, client)

local function wait(what, test) need(vim.wait(20000, test, 20), what) end

wait('diagnostic', function() return #vim.diagnostic.get(buffer) > 0 end)
local found = vim.diagnostic.get(buffer)[1]
say('diagnostic', found.lnum + 1 .. ':' .. found.col + 1, vim.split(found.message, '\n')[1])

local encoding = vim.lsp.get_client_by_id(client).offset_encoding
local function ask(method, params)
  local answers = need(vim.lsp.buf_request_sync(buffer, method, params, 20000), method)
  for _, answer in pairs(answers) do
    need(answer.error == nil, method .. ': ' .. vim.inspect(answer.error))
    return answer.result
  end
end
local document = { uri = vim.uri_from_bufnr(buffer) }
local function at(line, character) return { line = line, character = character } end

local place = at(found.lnum, found.col)
local actions = ask('textDocument/codeAction', {
  textDocument = document,
  range = { start = place, ['end'] = place },
  context = { diagnostics = {} },
})
say('fix', actions[1].title)
vim.lsp.util.apply_workspace_edit(actions[1].edit, encoding)
wait('clean', function()
  return #vim.diagnostic.get(buffer, { severity = vim.diagnostic.severity.ERROR }) == 0
end)

local edit = ask('textDocument/rename', {
  textDocument = document,
  position = at(1, 8),
  newName = 'LAMPS',
})
vim.lsp.util.apply_workspace_edit(edit, encoding)
local tidy = ask('textDocument/formatting', {
  textDocument = document,
  options = { tabSize = 2, insertSpaces = true },
})
vim.lsp.util.apply_text_edits(tidy, buffer, encoding)
local hover = ask('textDocument/hover', { textDocument = document, position = at(1, 8) })
say('hover', vim.split(hover.contents.value, '\n')[1])
for _, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, false)) do say('|' .. line) end
vim.cmd('qall!')
