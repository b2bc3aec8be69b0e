-- surgenote for Neovim 0.11 and later. Put this folder on the runtimepath, and `vim.lsp.enable('surgenote')` into init.lua.
return {
  cmd = { 'surgenote', 'language-server' },
  filetypes = { 'markdown', 'yaml' },
  root_markers = { 'project.yaml' },
}
