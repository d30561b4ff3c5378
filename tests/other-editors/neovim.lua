-- Opens a plan with the set-up of the README, waits for diagnostics and a hover, prints both.
dofile(vim.env.LODEBOOK_SETUP)
vim.cmd("edit " .. vim.env.LODEBOOK_PLAN)
local buffer = vim.api.nvim_get_current_buf()
vim.wait(90000, function() return #vim.diagnostic.get(buffer) > 0 end, 50)
for _, diagnostic in ipairs(vim.diagnostic.get(buffer)) do
	print(string.format("%d:%d %s %s", diagnostic.lnum + 1, diagnostic.col + 1, diagnostic.source, diagnostic.message))
end
local position = { line = 7, character = 14 }
local result = vim.lsp.buf_request_sync(buffer, "textDocument/hover", { textDocument = vim.lsp.util.make_text_document_params(buffer), position = position }, 90000)
for _, answer in pairs(result or {}) do print(answer.result and answer.result.contents.value or "no hover") end
vim.cmd("qa!")
