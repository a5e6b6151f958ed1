# What `cmake --install` puts in place: the program, its manual page, completions for the shells.
include(GNUInstallDirs)
install(TARGETS stillroom RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES docs/stillroom.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 OPTIONAL)
install(FILES completions/stillroom.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions
    RENAME stillroom OPTIONAL)
install(FILES completions/_stillroom completions/stillroom.zsh
    DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions OPTIONAL)
install(FILES completions/stillroom.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d OPTIONAL)
