namespace Farberth.Service.Words;

/// <summary>The console's words. English stands in the pages and is the key; other languages are files beside this one.</summary>
public sealed class OfficeWords;
