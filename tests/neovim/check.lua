-- A generic editor's client: opens a plan, waits for diagnostics and a hover from `lodebook lsp --stdio`, prints both.
local plan, server = vim.env.LODEBOOK_PLAN, vim.env.LODEBOOK_SERVER
vim.cmd("edit " .. plan)
local buffer = vim.api.nvim_get_current_buf()
local id = vim.lsp.start_client({ name = "lodebook", cmd = { vim.env.LODEBOOK_NODE, server, "lsp", "--stdio" } })
vim.lsp.buf_attach_client(buffer, id)
vim.wait(90000, function() return #vim.diagnostic.get(buffer) > 0 end, 50)
for _, diagnostic in ipairs(vim.diagnostic.get(buffer)) do
	print(string.format("%d:%d %s %s", diagnostic.lnum + 1, diagnostic.col + 1, diagnostic.source, diagnostic.message))
end
local position = { line = 7, character = 14 }
local result = vim.lsp.buf_request_sync(buffer, "textDocument/hover", { textDocument = vim.lsp.util.make_text_document_params(buffer), position = position }, 90000)
for _, answer in pairs(result or {}) do print(answer.result and answer.result.contents.value or "no hover") end
vim.cmd("qa!")
