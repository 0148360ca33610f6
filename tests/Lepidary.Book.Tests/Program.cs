using Lepidary.Book.Tests;
using Lepidary.Book.Tests.Facts;
using Lepidary.Book.Tests.Migrations;
using Xunit.MicrosoftTestingPlatform;
using Xunit.Runner.InProc.SystemConsole;

return args switch
{
    [WriterProcess.Command, .. var rest] => await WriterProcess.RunAsync(rest),
    [KeptBook.Command, var target] => await KeptBook.MakeAsync(target),
    _ when args.Contains("--server") || args.Contains("--internal-msbuild-node") =>
        await TestPlatformTestFramework.RunAsync(args, SelfRegisteredExtensions.AddSelfRegisteredExtensions),
    _ => await ConsoleRunner.Run(args),
};
