@echo off
rem Starts Slabnote. JAVA_HOME names the Java to use, else the java on the path (17 or newer).
rem SLABNOTE_JAVA_OPTS adds flags for the JVM.
setlocal
set "HOME_DIR=%~dp0.."

rem No blocks in brackets: a path such as "Program Files (x86)" would end them.
if defined JAVA_HOME goto home
set "JAVA=java.exe"
where java.exe >nul 2>nul
if not errorlevel 1 goto start
echo slabnote: no java on the path and JAVA_HOME is not set. Install a JDK 17 or newer. 1>&2
exit /b 2

:home
set "JAVA=%JAVA_HOME%\bin\java.exe"
if exist "%JAVA%" goto version
echo slabnote: JAVA_HOME = %JAVA_HOME%: no bin\java.exe there. Set JAVA_HOME to a JDK 17 or newer, or unset it. 1>&2
exit /b 2

rem The release file beside the JDK tells its version without starting it.
:version
if not exist "%JAVA_HOME%\release" goto start
set "MAJOR=17"
for /f "tokens=2 delims==." %%v in ('findstr /b /c:"JAVA_VERSION=" "%JAVA_HOME%\release"') do set "MAJOR=%%v"
set "MAJOR=%MAJOR:"=%"
if %MAJOR% GEQ 17 goto start
echo slabnote: JAVA_HOME = %JAVA_HOME% is older than Java 17. Set JAVA_HOME to a JDK 17 or newer. 1>&2
exit /b 2

:start
set "TIER=-XX:TieredStopAtLevel=1"
if "%~1"=="open" set "TIER=-XX:+TieredCompilation"
"%JAVA%" -XX:+IgnoreUnrecognizedVMOptions -Xshare:auto -XX:+UseSerialGC %TIER% --enable-native-access=ALL-UNNAMED --sun-misc-unsafe-memory-access=allow "-Dslabnote.home=%HOME_DIR%" %SLABNOTE_JAVA_OPTS% -cp "%HOME_DIR%\lib\*" org.slabnote.app.Main %*
exit /b %ERRORLEVEL%
