using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Farberth.Monitoring.Remembering;

namespace Farberth.Monitoring.Tests.Remembering;

/// <summary>A memory that an older program has written must not be taken for one of this program's.</summary>
public class MemoryVersion(ITestOutputHelper output)
{
    /// <summary>Of every record of the memory, in version 4.</summary>
    const string Digest = "42c180573be2ace4a76944e5949ca11a8c19ca22aecf1cd0505d10d97d59c714";

    [Fact]
    public void When_this_fails_raise_the_version_of_the_memory_and_note_the_new_digest()
    {
        var lines = new SortedSet<string>(StringComparer.Ordinal);
        Describe(typeof(SiteMemory), lines);
        Assert.True(lines.Count > 200, "the walk finds no records");
        var digest = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', lines))));
        output.WriteLine($"{lines.Count} members: {digest}");
        Assert.Equal((4, Digest), (SiteMemory.PresentVersion, digest));
    }

    static void Describe(Type type, SortedSet<string> lines)
    {
        foreach (var inner in type.GetGenericArguments().Append(type.GetElementType()).OfType<Type>())
            Describe(inner, lines);
        if (type.IsArray || type.Assembly.GetName().Name?.StartsWith("Farberth.", StringComparison.Ordinal) != true)
            return;
        if (type.IsEnum)
            lines.Add($"{type.Name}: {string.Join(' ', Enum.GetNames(type))}");
        foreach (var property in type.GetProperties(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic))
            if (property.SetMethod != null && lines.Add($"{type.Name}.{property.Name}: {property.PropertyType}"))
                Describe(property.PropertyType, lines);
    }
}
